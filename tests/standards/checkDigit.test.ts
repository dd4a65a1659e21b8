import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { imoNumber } from "../../lib/figures/checkDigit.ts";
import { faultsOf } from "./check.ts";

const theirs: { readonly validate: (text: string) => boolean } = createRequire(import.meta.url)("imonumber");

describe("IMO number", () => {
  // 9·7 + 0·6 + 7·5 + 4·4 + 7·3 + 2·2 = 139: tickerdossier.com/wiki/imo-ship-identification-number; 7654329: liquisearch.com.
  it.each(["9074729", "IMO 9074729", "imo9074729", " 9074729 "])("takes the published example as %j", (text) => {
    expect(imoNumber(text)).toEqual({ ok: true, value: "9074729" });
  });

  it("takes the other published example, 7654329", () => {
    expect(imoNumber("7654329")).toEqual({ ok: true, value: "7654329" });
  });

  it("says what the last digit would have to be", () => {
    expect(faultsOf(imoNumber("9074728"))).toBe("9074728 is not an IMO number: after 907472 the last digit would have to be 9");
  });

  it("refuses what has not seven digits, and seven zeros", () => {
    for (const text of ["", "907472", "90747290", "IMO", "907472A", "IMO 9074729 x"])
      expect(faultsOf(imoNumber(text))).toContain("seven digits");
    expect(imoNumber("0000000").ok).toBe(false);
  });

  it("agrees with the package imonumber, and exactly one last digit fits", () => {
    fc.assert(
      fc.property(fc.integer({ min: 100_000, max: 999_999 }), (six) => {
        const taken = [..."0123456789"].filter((last) => imoNumber(`${six}${last}`).ok);
        expect(taken).toHaveLength(1);
        for (const last of "0123456789") expect(theirs.validate(`IMO ${six}${last}`)).toBe(taken.includes(last));
      }),
    );
  });
});
