import fc from "fast-check";
import { expect, test } from "vitest";
import { newCode } from "../../lib/access/invitation.ts";
import { markOfSession, OPEN_LASTS, opens, replySession } from "../../lib/access/replyLink.ts";

test("a link opens until its last day, and not once it is withdrawn", () => {
  const expiresAt = "2026-04-01T00:00:00.000Z";
  expect(opens({ expiresAt }, expiresAt)).toBe(true);
  expect(opens({ expiresAt }, "2026-04-01T00:00:00.001Z")).toBe(false);
  expect(opens({ expiresAt, withdrawnAt: "2026-03-03T00:00:00.000Z" }, "2026-03-02T00:00:00.000Z")).toBe(false);
  expect(opens(null, "2026-03-02T00:00:00.000Z")).toBe(false);
});

test("what a browser keeps tells its link, for a time, and nobody else's", () => {
  const session = replySession("m1", "secret", 1000);
  expect(markOfSession(session, "secret", 1000 + OPEN_LASTS)).toBe("m1");
  expect(markOfSession(session, "secret", 1001 + OPEN_LASTS)).toBeNull();
  expect(markOfSession(session, "another secret", 1000)).toBeNull();
  expect(markOfSession(session.replace("m1", "m2"), "secret", 1000)).toBeNull();
  fc.assert(
    fc.property(fc.string(), (text) => {
      expect(markOfSession(text, "secret", 0)).toBeNull();
    }),
  );
});

test("a code has more than 128 random bits and two are never alike", () => {
  const codes = new Set(Array.from({ length: 1000 }, newCode));
  expect(codes.size).toBe(1000);
  for (const code of codes) expect(Buffer.from(code, "base64url").length).toBe(32);
});
