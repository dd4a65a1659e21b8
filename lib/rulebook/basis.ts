import { z } from "zod";

/** Where a statement comes from and how sure we are of it. */
export const basisSchema = z.strictObject({
  cite: z.string().describe("the regulation, standard, book or practice"),
  paragraph: z.string().optional(),
  mark: z
    .enum(["read", "memory", "practice", "interpretation"])
    .describe(
      "read: the text was read; memory: remembered and not verified; practice: common practice without a source; interpretation: our reading, to be agreed with the authority",
    ),
  edition: z.string().optional(),
});
export type Basis = Readonly<z.infer<typeof basisSchema>>;

const cfr = (paragraph: string, edition: string): Basis => ({ cite: "46 CFR", paragraph, mark: "read", edition });

export const basis = {
  practice: { cite: "common practice of the trade", mark: "practice" },
  periodicTests: cfr("61.40-10(b)", "2015 annual edition"),
  periodicProcedure: cfr("61.40-10(a)", "2015 annual edition"),
  periodicReading: { cite: "46 CFR", paragraph: "61.40-10(b)", mark: "interpretation", edition: "2015 annual edition" },
  offshoreTests: cfr("130.480(d)", "current June 2026"),
  offshoreReading: { cite: "46 CFR", paragraph: "130.480(d)", mark: "interpretation", edition: "current June 2026" },
  offshoreApplies: cfr("130.400", "January 2021"),
  offshoreSize: cfr("128.110", "USCG-2012-0208, 79 FR 48936"),
  overspeedLimitUs: cfr("111.12-1(b)", "2015 annual edition, may have changed in 2023"),
  overspeedLimitClass: { cite: "IACS UR M3", paragraph: "M3.2", mark: "memory" },
  breakerOpens: cfr("111.12-11(c)(1), (j)", "2015 annual edition, may have changed in 2023"),
  tripReset: cfr("62.25-15", "current"),
  noOverride: cfr("62.35-50(d)", "current"),
  sensorFailure: cfr("62.35-50(j)", "2015 annual edition"),
  builtInTest: cfr("62.30-10(b)", "current"),
  landSets: { cite: "TM 5-6115-545-34", paragraph: "16-17", mark: "read" },
  testManifold: { cite: "UFGS 15133A", mark: "read" },
  bleedPractice: { cite: "US maritime-academy assessment OICEW-7E5C", mark: "read" },
  hotBath: { cite: "US maritime-academy assessment OICEW-7E5C", mark: "read" },
  overspeedExcursion: { cite: "Naval engine-man course EN 3&2, chapter on safety devices", mark: "read" },
  hotSurface: { cite: "HSC Code", paragraph: "9.1.2", mark: "read" },
  coolantLevel: { cite: "TM 55-1930-209-14P-9-1", mark: "read" },
  reducedThreshold: { cite: "TM 5-2815-232-14", mark: "read" },
  noise: { cite: "29 CFR", paragraph: "1910.95 Table G-16", mark: "read", edition: "2015 annual edition" },
  platinum: { cite: "IEC 60751", mark: "read", edition: "coefficients as published in several secondary texts" },
  thermocouple: { cite: "NIST ITS-90 thermocouple tables", mark: "read" },
  boiling: { cite: "IAPWS-IF97", paragraph: "region 4", mark: "read" },
  office: { cite: "office policy of this visit", mark: "practice" },
  arithmetic: { cite: "arithmetic", mark: "read" },
} as const satisfies Readonly<Record<string, Basis>>;
