import { loadLeft, SHARING_LIMITS, sharingWithin } from "../../figures/loadLeft.ts";
import { instantaneousTrip, longTimePickUpLimit, OVERCURRENT_LIMITS } from "../../figures/overcurrent.ts";
import { activePower, apparentPower, plateContradictions, ratedCurrent } from "../../figures/plate.ts";
import {
  actsWhenMotored,
  placeOfSetting,
  REVERSE_POWER_PERCENT,
  REVERSE_POWER_SECONDS,
  reversePowerBand,
  typicalMotoring,
} from "../../figures/reversePower.ts";
import { failure, success } from "../../kernel/result.ts";
import { formatNumber } from "../../units/units.ts";
import { ARITHMETIC, amount, choice, outcome, outcomes, several, whole } from "./build.ts";
import type { FigurePage } from "./types.ts";

const MOVERS = ["diesel", "turbine"] as const;
const MOTORED = ["diesel", "condensingSteam", "nonCondensingSteam", "gasTurbine"] as const;
const SUPPLY = ["AC", "DC"] as const;
const PLATE_NAMES = { ratedPower: "rated power", current: "rated current", ratedSpeed: "rated speed" } as const;

export const boardPages: readonly FigurePage[] = [
  {
    id: "reversePower",
    name: "reverse power: band and motoring",
    says: "Where a reverse-power trip may be set, and whether a set that is motored takes enough to act it.",
    caution:
      "Motoring is broken off by hand two seconds after the set delay, never later. The others carry the load first, and no heavy consumer starts meanwhile.",
    sources: [
      REVERSE_POWER_PERCENT.diesel.lower.basis,
      REVERSE_POWER_PERCENT.diesel.upper.basis,
      REVERSE_POWER_PERCENT.turbine.lower.basis,
      REVERSE_POWER_PERCENT.turbine.upper.basis,
      typicalMotoring("diesel").basis,
      typicalMotoring("condensingSteam").basis,
    ],
    sums: [
      {
        id: "band",
        title: "The band, and where a setting stands to it",
        formula: ["diesel 8 to 15 %, turbine 2 to 6 % of rated power, after 3 to 10 s"],
        inputs: [
          choice("mover", "Driven by", [
            ["diesel", "a diesel"],
            ["turbine", "a turbine"],
          ]),
          amount("rated", "Rated power", "kW"),
          amount("pickUp", "Pick-up", "kW"),
          amount("delay", "Delay", "s"),
        ],
        work: (given) => {
          const band = reversePowerBand(given.one("mover", MOVERS), given.number("rated"));
          if (!band.ok) return band;
          return outcomes(
            placeOfSetting({ pickUpKw: given.number("pickUp"), delaySeconds: given.number("delay") }, band.value),
            ({ pickUp, delay }) => [
              outcome("lowest pick-up", band.value.kilowatts.lower, "kW", 1),
              outcome("highest pick-up", band.value.kilowatts.upper, "kW", 1),
              outcome("the pick-up stands", pickUp === "within" ? "within the band" : `${pickUp} the band`),
              outcome(
                "the delay stands",
                delay === "within" ? "within its limits" : `${delay} its limits`,
                undefined,
                undefined,
                `Limits ${REVERSE_POWER_SECONDS.lower.value} to ${REVERSE_POWER_SECONDS.upper.value} s.`,
              ),
            ],
          );
        },
        example: {
          given: { mover: "diesel", rated: "1250 kW", pickUp: "90 kW", delay: "5 s" },
          gives: [
            ["lowest pick-up", 100],
            ["highest pick-up", 187.5],
            ["the pick-up stands", "below the band"],
            ["the delay stands", "within its limits"],
          ],
          source: "class text attributed to DNV, and CCS, worked for a diesel of 1250 kW",
        },
      },
      {
        id: "acts",
        title: "Whether it acts when the set is motored",
        formula: ["it acts only where the power taken is at or over the pick-up"],
        inputs: [amount("pickUp", "Pick-up", "kW"), amount("taken", "Power that the set takes when motored", "kW")],
        work: (given) =>
          outcomes(actsWhenMotored(given.number("pickUp"), given.number("taken")), (acts) => [
            outcome(
              "the relay",
              acts ? "acts" : "does not act",
              undefined,
              undefined,
              acts ? "" : "Motoring would prove nothing: another method is wanted, or a lower pick-up that the office agrees.",
            ),
          ]),
        example: {
          given: { pickUp: "100 kW", taken: "62.5 kW" },
          gives: [["the relay", "does not act"]],
          source: "published motoring power of diesels, 5 to 25 %, worked for 1250 kW and a pick-up of 8 %",
        },
      },
      {
        id: "motoring",
        title: "What is taken when motored, as a rule",
        formula: ["share of rated power at synchronous speed, as published"],
        inputs: [
          choice("mover", "Driven by", [
            ["diesel", "a diesel"],
            ["condensingSteam", "a condensing steam turbine"],
            ["nonCondensingSteam", "a back-pressure steam turbine"],
            ["gasTurbine", "a gas turbine"],
          ]),
        ],
        work: (given) => {
          const { lowestPercent, highestPercent } = typicalMotoring(given.one("mover", MOTORED));
          return success([
            outcome("lowest", lowestPercent, "%", 1),
            outcome("highest", highestPercent, "%", 1, "Typical, not this machine’s: its own figure counts."),
          ]);
        },
        example: {
          given: { mover: "diesel" },
          gives: [
            ["lowest", 5],
            ["highest", 25],
          ],
          source: "protective-relaying textbook and a relay maker’s manual",
        },
      },
    ],
  },
  {
    id: "loadLeft",
    name: "load on the sets that remain",
    says: "What the others carry while one set is tested, and what becomes of it should the largest of them trip.",
    caution: "An overloaded set trips and takes the ship with it. The board is manned, and no heavy consumer starts while a set is out.",
    sources: [ARITHMETIC, SHARING_LIMITS.ofLargestPercent.basis],
    sums: [
      {
        id: "left",
        title: "Load left",
        formula: ["(ship’s load + motoring power + largest starter) ÷ rating that remains"],
        inputs: [
          amount("load", "Ship’s load", "kW"),
          amount("motoring", "Power taken by the set under test", "kW", { hint: "0 where it is not motored" }),
          amount("starter", "Largest consumer that may start by itself", "kW", { hint: "0 where there is none" }),
          several("rated", "Rated power of each set that remains", "kW", "One after the other, such as 750; 500"),
          amount("limit", "Limit of the office", "%"),
        ],
        work: (given) =>
          outcomes(
            loadLeft({
              shipLoadKw: given.number("load"),
              motoringKw: given.number("motoring"),
              largestStarterKw: given.number("starter"),
              remainingRatedKw: given.numbers("rated"),
              limitPercent: given.number("limit"),
            }),
            ({ totalKw, percent, withinLimit, largestLost }) => [
              outcome("load to carry", totalKw, "kW", 1),
              outcome(
                "load on the sets that remain",
                percent,
                "%",
                2,
                withinLimit ? "Within the limit." : "Above the limit: the test waits, or load is taken off first.",
              ),
              largestLost.setsLeft
                ? outcome(
                    "should the largest of them trip",
                    largestLost.percent,
                    "%",
                    2,
                    largestLost.withinLimit ? "Within the limit." : "Above the limit.",
                  )
                : outcome("should it trip", "nothing is left", undefined, undefined, "One set alone remains."),
            ],
          ),
        example: {
          given: { load: "800 kW", motoring: "100 kW", starter: "100 kW", rated: "750; 500", limit: "80 %" },
          gives: [
            ["load to carry", 1000],
            ["load on the sets that remain", 80],
            ["should the largest of them trip", 200],
          ],
          source: "worked for this figure",
        },
      },
      {
        id: "sharing",
        title: "Load shared by two sets",
        formula: [
          "each within the smaller of 15 % of the largest and 25 % of the smallest rating from its share, at 20 to 100 % of all ratings",
        ],
        inputs: [
          amount("first", "Rating of the one", "kW"),
          amount("firstReads", "Its reading", "kW"),
          amount("second", "Rating of the other", "kW"),
          amount("secondReads", "Its reading", "kW"),
        ],
        work: (given) =>
          outcomes(
            sharingWithin([
              { ratedKw: given.number("first"), readingKw: given.number("firstReads") },
              { ratedKw: given.number("second"), readingKw: given.number("secondReads") },
            ]),
            ({ allowedKw, deviationsKw: [one = Number.NaN, other = Number.NaN], within, applies }) => [
              outcome("allowed deviation, either way", allowedKw, "kW", 1),
              outcome("the one stands from its share by", one, "kW", 1),
              outcome("the other by", other, "kW", 1),
              outcome(
                "sharing",
                applies ? (within ? "within the rule" : "outside the rule") : "not judged",
                undefined,
                undefined,
                applies ? "" : "The rule speaks only from 20 to 100 % of all ratings.",
              ),
            ],
          ),
        example: {
          given: { first: "1250 kW", firstReads: "950 kW", second: "1250 kW", secondReads: "550 kW" },
          gives: [
            ["allowed deviation, either way", 187.5],
            ["the one stands from its share by", 200],
            ["sharing", "outside the rule"],
          ],
          source: "class rule quoted at fadian.org, worked",
        },
      },
    ],
  },
  {
    id: "overcurrent",
    name: "overcurrent: pick-up and instantaneous trip",
    says: "How high the long-time pick-up of a generator breaker may be, and whether it must trip at once on a short circuit.",
    caution: "Injection is the relay technician’s. Never open the secondary circuit of a current transformer under load.",
    sources: [OVERCURRENT_LIMITS.longTimePercent.basis, OVERCURRENT_LIMITS.instantaneousFromGenerators.basis],
    sums: [
      {
        id: "pickUp",
        title: "Highest long-time pick-up",
        formula: ["115 % of rated current, or of an overload rating that holds for 2 h or more"],
        inputs: [
          amount("rated", "Rated current", "A"),
          amount("overload", "Overload rating", "A", { optional: true, hint: "Left out where there is none (optional)" }),
          amount("hours", "Time for which it holds", "h", { optional: true, hint: "With an overload rating only (optional)" }),
        ],
        work: (given) => {
          const [overload, hours] = [given.maybe("overload"), given.maybe("hours")];
          if ((overload === undefined) !== (hours === undefined))
            return failure("an overload rating and its time are wanted together, or neither");
          return outcomes(
            longTimePickUpLimit(
              given.number("rated"),
              overload === undefined || hours === undefined ? undefined : { amperes: overload, hours },
            ),
            (limit) => [outcome("highest pick-up", limit, "A", 1)],
          );
        },
        example: {
          given: { rated: "1000 A", overload: "1100 A", hours: "2 h" },
          gives: [["highest pick-up", 1265, 1e-9]],
          source: "46 CFR 111.12-11(d)(2), worked",
        },
      },
      {
        id: "instantaneous",
        title: "Instantaneous trip",
        formula: ["required for direct current, and where three or more sets can be paralleled; else not permitted"],
        inputs: [
          choice("supply", "Current", [
            ["AC", "alternating"],
            ["DC", "direct"],
          ]),
          whole("sets", "Sets that can be paralleled"),
        ],
        work: (given) =>
          outcomes(instantaneousTrip(given.one("supply", SUPPLY), given.number("sets")), (verdict) => [
            outcome("instantaneous trip", verdict),
          ]),
        example: {
          given: { supply: "AC", sets: "2" },
          gives: [["instantaneous trip", "not permitted"]],
          source: "46 CFR 111.12-11(c)(3), worked",
        },
      },
    ],
  },
  {
    id: "plate",
    name: "data plate of a generator",
    says: "Current and power that follow from a plate, and whether a plate contradicts itself.",
    sources: [ARITHMETIC],
    sums: [
      {
        id: "current",
        title: "Rated current",
        formula: ["S = P ÷ pf", "I = S × 1000 ÷ (√3 × U)"],
        inputs: [
          amount("power", "Rated power", "kW"),
          amount("factor", "Power factor", undefined, { hint: "Such as 0.8" }),
          amount("voltage", "Voltage between lines", "V"),
        ],
        work: (given) => {
          const apparent = apparentPower(given.number("power"), given.number("factor"));
          if (!apparent.ok) return apparent;
          return outcomes(ratedCurrent(apparent.value, given.number("voltage")), (amperes) => [
            outcome("apparent power", apparent.value, "kVA", 3),
            outcome("rated current", amperes, "A", 1),
          ]);
        },
        example: {
          given: { power: "114 kW", factor: "0.8", voltage: "440 V" },
          gives: [["rated current", 186.983, 0.0005]],
          source: "published example of scienceaq.com",
        },
      },
      {
        id: "power",
        title: "Power of kVA",
        formula: ["P = S × pf"],
        inputs: [amount("apparent", "Apparent power", "kVA"), amount("factor", "Power factor", undefined, { hint: "Such as 0.8" })],
        work: (given) =>
          outcomes(activePower(given.number("apparent"), given.number("factor")), (kilowatts) => [outcome("power", kilowatts, "kW", 1)]),
        example: {
          given: { apparent: "1250 kVA", factor: "0.8" },
          gives: [["power", 1000, 0.0005]],
          source: "worked for this figure",
        },
      },
      {
        id: "check",
        title: "A plate held against itself",
        formula: ["P = S × pf; I = S × 1000 ÷ (√3 × U); n = 120 × f ÷ poles; told from 1 % on"],
        inputs: [
          amount("power", "Rated power", "kW", { optional: true, hint: "Whatever is not on the plate is left out (optional)" }),
          amount("apparent", "Apparent power", "kVA", { optional: true, hint: "(optional)" }),
          amount("factor", "Power factor", undefined, { optional: true, hint: "(optional)" }),
          amount("voltage", "Voltage between lines", "V", { optional: true, hint: "(optional)" }),
          amount("current", "Rated current", "A", { optional: true, hint: "(optional)" }),
          amount("frequency", "Rated frequency", "Hz", { optional: true, hint: "(optional)" }),
          whole("poles", "Poles", { optional: true, hint: "Poles, not pairs (optional)" }),
          amount("speed", "Rated speed", "rpm", { optional: true, hint: "(optional)" }),
        ],
        work: (given) => {
          const found = plateContradictions({
            ratedPower: given.maybe("power"),
            apparentPower: given.maybe("apparent"),
            powerFactor: given.maybe("factor"),
            voltage: given.maybe("voltage"),
            current: given.maybe("current"),
            frequency: given.maybe("frequency"),
            poles: given.maybe("poles"),
            ratedSpeed: given.maybe("speed"),
          });
          return success([
            outcome("contradictions", found.length, undefined, 0, found.length === 0 ? "What is given does not contradict itself." : ""),
            ...found.map(({ what, expected, unit, differencePercent }) =>
              outcome(
                `${PLATE_NAMES[what]} by the rest`,
                expected,
                unit,
                1,
                `The plate stands ${formatNumber(Math.abs(differencePercent), 2)} % ${differencePercent > 0 ? "above" : "below"} it.`,
              ),
            ),
          ]);
        },
        example: {
          given: {
            power: "1250 kW",
            apparent: "1562.5 kVA",
            factor: "0.8",
            voltage: "400 V",
            current: "2005 A",
            frequency: "60 Hz",
            poles: "4",
            speed: "1800 rpm",
          },
          gives: [
            ["contradictions", 1],
            ["rated current by the rest", 2255.27, 0.005],
          ],
          source: "worked for this figure: a plate of 450 V read as 400 V",
        },
      },
    ],
  },
];
