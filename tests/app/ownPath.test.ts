import { expect, test } from "vitest";
import { ownPath } from "../../app/_server/gate.ts";

test("nobody is led to another site: what is no path of ours leads to the visits", () => {
  for (const given of [
    ...[
      "https://elsewhere.example",
      "//elsewhere.example",
      "/\\elsewhere.example",
      "\\\\elsewhere.example",
      "javascript:alert(1)",
      "data:,x",
    ],
    ...["elsewhere", "", " /visits", "/visits\r\nset-cookie: a=b", "/vi sits", "/\t/elsewhere.example", "/\u0000", "@elsewhere.example"],
  ])
    expect(ownPath(given), JSON.stringify(given)).toBe("/visits");
  for (const given of ["/", "/visits/1/board?x=1#y", "/people", "/reply/at/start"]) expect(ownPath(given)).toBe(given);
});
