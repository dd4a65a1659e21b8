import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FORM_LASTS, formToken, personOfForm, sameOrigin } from "../../lib/access/formToken.ts";

const SECRET = "a secret of more than thirty-two characters";
const NOW = Date.parse("2027-01-11T08:00:00Z");

describe("a form's token", () => {
  test("tells whose form it is until it runs out", () => {
    const token = formToken("mara", SECRET, NOW);
    expect(personOfForm(token, SECRET, NOW + FORM_LASTS)).toBe("mara");
    expect(personOfForm(token, SECRET, NOW + FORM_LASTS + 1)).toBeNull();
    expect(personOfForm(formToken("", SECRET, NOW), SECRET, NOW)).toBe("");
  });

  test("changed anywhere, or sealed with another secret, it is none", () => {
    const token = formToken("mara", SECRET, NOW);
    fc.assert(
      fc.property(fc.nat(token.length - 1), fc.constantFrom("x", "0", ".", ""), (place, sign) => {
        const changed = `${token.slice(0, place)}${sign}${token.slice(place + 1)}`;
        expect(personOfForm(changed, SECRET, NOW)).toBe(changed === token ? "mara" : null);
      }),
    );
    expect(personOfForm(token, `${SECRET}!`, NOW)).toBeNull();
    expect(personOfForm("", SECRET, NOW)).toBeNull();
  });
});

describe("where a write comes from", () => {
  const from = (origin: string | null, more: Readonly<Record<string, string>> = {}): Headers =>
    new Headers({ ...(origin === null ? {} : { origin }), ...more });

  test.each([
    [from("https://plans.example.org"), "https://plans.example.org", true],
    [from("http://plans.example.org"), "https://plans.example.org", false],
    [from("https://plans.example.org:444"), "https://plans.example.org", false],
    [from("null"), "https://plans.example.org", false],
    [from(null), "https://plans.example.org", false],
    [from(null, { "sec-fetch-site": "same-origin" }), "https://plans.example.org", true],
    [from(null, { "sec-fetch-site": "same-site" }), "https://plans.example.org", false],
    [from("http://localhost:3000", { host: "localhost:3000" }), null, true],
    [from("http://localhost:3001", { host: "localhost:3000" }), null, false],
    [from("null", { host: "localhost:3000" }), null, false],
  ])("%#", (headers, url, ours) => expect(sameOrigin(headers, url)).toBe(ours));
});
