import {
  changeoverVoltages,
  EMERGENCY_LIMITS,
  emergencyHours,
  fuelHours,
  judgeChangeover,
  judgeStandby,
  monthlyRunSufficient,
  PRIME_MOVER_BASIS,
  primeMoverAllowed,
  startsSufficient,
} from "../../figures/emergencyPower.ts";
import { success } from "../../kernel/result.ts";
import { ARITHMETIC, amount, choice, outcome, outcomes, whole } from "./build.ts";
import type { FigurePage, Input } from "./types.ts";

const RULES = ["46 CFR", "SOLAS"] as const;
const SHIPS = ["cargo", "passenger"] as const;
const VOYAGES = ["open", "inland"] as const;
const YES_NO = ["no", "yes"] as const;
const MOVERS = ["diesel", "gasTurbine", "steamTurbine", "powerTakeOff"] as const;

const rules: Input = choice("rules", "Rules", [
  ["46 CFR", "46 CFR"],
  ["SOLAS", "SOLAS"],
]);

const { cfrCargoHours, solasCargoHours, cfrStarts, solasStarts, cfrConnectionSeconds, solasConnectionSeconds } = EMERGENCY_LIMITS;

export const emergencyPages: readonly FigurePage[] = [
  {
    id: "emergencyPower",
    name: "emergency power: hours, starts, change-over",
    says: "For how long the emergency source must last, what must stand ready to start it, and how quickly it must come.",
    caution:
      "A loss of power is real for everybody aboard: bridge, cargo, terminal, lifts and galley are told, and what must not stop is made safe before. The emergency set starts without warning.",
    sources: [
      cfrCargoHours.basis,
      solasCargoHours.basis,
      cfrStarts.basis,
      solasStarts.basis,
      cfrConnectionSeconds.basis,
      solasConnectionSeconds.basis,
      EMERGENCY_LIMITS.cfrFullLoadSeconds.basis,
      EMERGENCY_LIMITS.cfrStartReductionFromPercent.basis,
      EMERGENCY_LIMITS.standbySeconds.basis,
      EMERGENCY_LIMITS.monthlyRunMinutes.basis,
      EMERGENCY_LIMITS.solasCargoFromGt.basis,
      PRIME_MOVER_BASIS,
      ARITHMETIC,
    ],
    sums: [
      {
        id: "hours",
        title: "Hours that the source must last",
        formula: [
          "46 CFR: passenger 36 h, cargo 18 h; smaller and inland ships fewer, or twice the time of run",
          "SOLAS: passenger 36 h, cargo 18 h from 500 GT",
        ],
        inputs: [
          rules,
          choice("ship", "Ship", [
            ["cargo", "cargo or other"],
            ["passenger", "passenger"],
          ]),
          choice("voyage", "Voyages", [
            ["open", "ocean, Great Lakes, coastwise or international"],
            ["inland", "none of these"],
          ]),
          amount("tonnage", "Gross tonnage", "GT", { optional: true, hint: "A passenger ship’s is not wanted (optional)" }),
          amount("run", "Time of run", "h", { optional: true, hint: "Only where the hours hang on it (optional)" }),
        ],
        work: (given) =>
          outcomes(
            emergencyHours({
              rules: given.one("rules", RULES),
              kind: given.one("ship", SHIPS),
              voyage: given.one("voyage", VOYAGES),
              grossTonnage: given.maybe("tonnage"),
              runHours: given.maybe("run"),
            }),
            ({ hours, basis }) => [outcome("hours", hours, "h", 1, `By ${basis.cite} ${basis.paragraph ?? ""}.`)],
          ),
        example: {
          given: { rules: "46 CFR", ship: "cargo", voyage: "open", tonnage: "20000 GT", run: "" },
          gives: [["hours", 18]],
          source: "46 CFR Table 112.05-5(a), worked for a cargo ship of 20,000 GT",
        },
      },
      {
        id: "starts",
        title: "Whether stored starts are enough",
        formula: [
          "46 CFR: 6, or 3 and 3 from a second source",
          "SOLAS: 3, and 3 from a second source within 30 minutes or a start by hand shown to work",
        ],
        inputs: [
          rules,
          whole("first", "Starts in the first source"),
          whole("second", "Starts in a second source", { hint: "0 where there is none" }),
          amount("within", "Second source ready after", "min", { optional: true, hint: "SOLAS only (optional)" }),
          choice("byHand", "Start by hand shown to work", [
            ["no", "no"],
            ["yes", "yes"],
          ]),
        ],
        work: (given) =>
          outcomes(
            startsSufficient({
              rules: given.one("rules", RULES),
              first: given.number("first"),
              second: given.number("second"),
              secondWithinMinutes: given.maybe("within"),
              manualStartEffective: given.one("byHand", YES_NO) === "yes",
            }),
            (verdict) => [
              verdict.sufficient
                ? outcome("stored starts", "enough")
                : outcome("stored starts", "too few", undefined, undefined, `Wanted: ${verdict.lacking}.`),
            ],
          ),
        example: {
          given: { rules: "46 CFR", first: "4", second: "0", within: "", byHand: "no" },
          gives: [["stored starts", "too few"]],
          source: "46 CFR 112.50-1(k), worked: four starts in a battery alone",
        },
      },
      {
        id: "changeover",
        title: "A change-over that was timed",
        formula: ["connected within 45 s of the failure; under 46 CFR full load within 45 s of cranking"],
        inputs: [
          rules,
          amount("cranked", "Cranking began after", "s", { hint: "From the failure of the normal source" }),
          amount("transferred", "Loads went over after", "s", { hint: "From the failure" }),
        ],
        work: (given) =>
          outcomes(
            judgeChangeover({
              rules: given.one("rules", RULES),
              crankedAt: given.number("cranked"),
              transferredAt: given.number("transferred"),
            }),
            ({ connectedInTime, fullLoadBySeconds }) => [
              outcome("connected", connectedInTime ? "in time" : "too late"),
              ...(fullLoadBySeconds === undefined
                ? []
                : [outcome("full load carried by", fullLoadBySeconds, "s", 1, "From the failure; it is another clock.")]),
            ],
          ),
        example: {
          given: { rules: "46 CFR", cranked: "3 s", transferred: "16 s" },
          gives: [
            ["connected", "in time"],
            ["full load carried by", 48],
          ],
          source: "46 CFR 112.25-10(a) and 112.50-1(d), worked",
        },
      },
      {
        id: "standby",
        title: "A stand-by set that was timed",
        formula: ["on the board at most 45 s after the loss, better 30 s; unattended US plants 30 s"],
        inputs: [amount("seconds", "On the board after", "s")],
        work: (given) =>
          outcomes(judgeStandby(given.number("seconds")), ({ iacs, unattendedUs }) => [
            outcome("by IACS", iacs),
            outcome("by 46 CFR, unattended plant", unattendedUs ? "in time" : "too late"),
          ]),
        example: {
          given: { seconds: "38 s" },
          gives: [
            ["by IACS", "permitted"],
            ["by 46 CFR, unattended plant", "too late"],
          ],
          source: "IACS UI SC157 and 46 CFR 62.50-30(k), worked",
        },
      },
      {
        id: "voltages",
        title: "Voltages of the change-over",
        formula: ["start at 85 to 60 % of the normal voltage; transfer at 85 to 95 % of the emergency voltage"],
        inputs: [amount("nominal", "Nominal voltage", "V")],
        work: (given) =>
          outcomes(changeoverVoltages(given.number("nominal")), ({ startHighest, startLowest, transferLowest, transferHighest }) => [
            outcome("started, falling, at most at", startHighest, "V", 1),
            outcome("started at the latest at", startLowest, "V", 1),
            outcome("transfer from", transferLowest, "V", 1),
            outcome("transfer to", transferHighest, "V", 1),
          ]),
        example: {
          given: { nominal: "450 V" },
          gives: [
            ["started, falling, at most at", 382.5],
            ["started at the latest at", 270],
            ["transfer from", 382.5],
            ["transfer to", 427.5],
          ],
          source: "46 CFR 112.25-5 and 112.25-10(a), worked",
        },
      },
      {
        id: "mover",
        title: "What may drive the emergency set",
        formula: ["a diesel or a gas turbine only, by 46 CFR"],
        inputs: [
          choice("mover", "Driven by", [
            ["diesel", "a diesel"],
            ["gasTurbine", "a gas turbine"],
            ["steamTurbine", "a steam turbine"],
            ["powerTakeOff", "a power take-off"],
          ]),
        ],
        work: (given) => success([outcome("by 46 CFR", primeMoverAllowed(given.one("mover", MOVERS)) ? "permitted" : "not permitted")]),
        example: {
          given: { mover: "steamTurbine" },
          gives: [["by 46 CFR", "not permitted"]],
          source: "46 CFR 112.05-5(i)",
        },
      },
      {
        id: "month",
        title: "The month’s run under load",
        formula: ["2 h under load each month"],
        inputs: [amount("minutes", "Run under load", "min")],
        work: (given) =>
          outcomes(monthlyRunSufficient(given.number("minutes")), (enough) => [outcome("the run", enough ? "long enough" : "too short")]),
        example: {
          given: { minutes: "110 min" },
          gives: [["the run", "too short"]],
          source: "46 CFR 97.15-30(b) and 35.10-15(b), worked: 1 h 50 min",
        },
      },
      {
        id: "fuel",
        title: "Hours that the fuel lasts",
        formula: ["t = tank × share that can be drawn ÷ fuel in an hour"],
        inputs: [
          amount("tank", "Tank", "L"),
          amount("share", "Share that can be drawn", undefined, { hint: "Above 0 and up to 1, such as 0.9" }),
          amount("perHour", "Fuel in an hour at the emergency load, in litres"),
        ],
        work: (given) =>
          outcomes(fuelHours(given.number("tank"), given.number("share"), given.number("perHour")), (hours) => [
            outcome("fuel lasts", hours, "h", 1),
          ]),
        example: {
          given: { tank: "2000 L", share: "0.9", perHour: "100" },
          gives: [["fuel lasts", 18, 1e-12]],
          source: "worked for this figure",
        },
      },
    ],
  },
];
