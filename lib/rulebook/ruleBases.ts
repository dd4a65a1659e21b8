import { CFR_OFFSHORE, CFR_PERIODIC, MAKER_OFFICE, SOLAS } from "../model/facts/visit.ts";
import { type Basis, basis } from "./basis.ts";
import type { Opener, RuleBasis, Technique, TechniqueBar } from "./types.ts";

/** How the techniques are named in reasons. */
export const techniques: Readonly<Record<Technique, string>> = {
  1: "real stimulus at the fitted sensor",
  2: "condition applied to the sensing element with calibrated equipment",
  3: "reduced-threshold test function that is indicated, keeps the protection alive and restores itself",
  4: "signal fed in at the plug",
  5: "stored value or adjuster changed",
  6: "wiring changed (contact opened or bridged, wire or supply taken off)",
  7: "running comparison, which stimulates nothing",
};

const bar = (technique: Technique, openedBy: readonly Opener[], otherwise: string, ...from: readonly Basis[]): TechniqueBar => ({
  technique,
  openedBy,
  otherwise,
  basis: from,
});

const procedureContent = ["equipment status", "apparatus", "safety precautions", "set points", "procedure", "expected result"] as const;

const artificial = (what: string): string =>
  `${what} is not accepted under 46 CFR 61.40-10(b) unless the procedure approved for this vessel has it as its step`;
const offshore = (what: string): string => `${what} is not accepted under 46 CFR 130.480(d) without the authority's written acceptance`;

export const ruleBases: readonly RuleBasis[] = [
  {
    id: SOLAS,
    name: "SOLAS with IACS and class practice",
    says: "All techniques are accepted; a stored value or adjuster that is changed is printed before and after.",
    bars: [],
    procedure: [],
    overspeedFactor: 1.15,
    basis: [basis.practice],
  },
  {
    id: CFR_PERIODIC,
    name: "46 CFR with 61.40-10",
    says: "No misadjustment, artificial signal, improper wiring or tampering. Where the real test would damage equipment or endanger people, a condition applied at the sensor with calibrated equipment is accepted.",
    bars: [
      bar(
        2,
        ["danger"],
        "a condition applied to the sensor instead of the real one is accepted under 46 CFR 61.40-10(b) only where the real test would damage equipment or endanger people",
        basis.periodicTests,
      ),
      bar(
        3,
        ["approved step", "written acceptance"],
        "a reduced-threshold test function is taken to be accepted under 46 CFR 61.40-10(b) only where it stands in the approved procedure or the authority has accepted it in writing; to be agreed with the authority",
        basis.periodicReading,
      ),
      bar(4, ["approved step"], artificial("a signal fed in at the plug"), basis.periodicTests),
      bar(5, ["approved step"], artificial("a changed stored value or adjuster"), basis.periodicTests),
      bar(6, ["approved step"], artificial("changed wiring"), basis.periodicTests),
    ],
    procedure: procedureContent,
    overspeedFactor: 1.15,
    basis: [basis.periodicTests, basis.periodicProcedure],
  },
  {
    id: CFR_OFFSHORE,
    name: "46 CFR with 130.480",
    says: "No simulation by misadjustment, artificial signals or improper wiring, with no exception in the text; only written acceptance by the authority opens it.",
    bars: [
      bar(
        3,
        ["written acceptance"],
        "whether a reduced-threshold test function is accepted under 46 CFR 130.480(d) must be asked; it is not planned without the authority's written acceptance",
        basis.offshoreReading,
      ),
      bar(4, ["written acceptance"], offshore("a signal fed in at the plug"), basis.offshoreTests),
      bar(5, ["written acceptance"], offshore("a changed stored value or adjuster"), basis.offshoreTests),
      bar(6, ["written acceptance"], offshore("changed wiring"), basis.offshoreTests),
    ],
    procedure: ["equipment status", "functions needed", "expected results"],
    overspeedFactor: 1.15,
    basis: [basis.offshoreTests],
  },
  {
    id: MAKER_OFFICE,
    name: "maker's procedure and office policy only",
    says: "All techniques are accepted; a stored value or adjuster that is changed is printed before and after.",
    bars: [],
    procedure: [],
    overspeedFactor: null,
    basis: [basis.practice],
  },
];
