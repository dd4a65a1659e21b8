import {
  abortWindow,
  frequencyFromSpeed,
  GENERATOR_OVERSPEED_FACTOR,
  overspeedLimit,
  PROPULSION_OVERSPEED_FACTOR,
  speedFromFrequency,
  verifyPoint,
} from "../../figures/overspeed.ts";
import { FREQUENCY_BAND, ratioNeeded, shaftFrequency, speedWindow } from "../../figures/shaftGenerator.ts";
import { success } from "../../kernel/result.ts";
import { ARITHMETIC, amount, choice, outcome, outcomes, read, whole } from "./build.ts";
import type { FigurePage } from "./types.ts";

const FACTORS = { generator: GENERATOR_OVERSPEED_FACTOR, propulsion: PROPULSION_OVERSPEED_FACTOR } as const;
const DRIVES = ["generator", "propulsion"] as const;

const LIMITED_BY = {
  ruleLimit: "the rule limit",
  makersMaximum: "the maker’s maximum",
  alternatorLimit: "the alternator’s limit",
} as const;

export const speedPages: readonly FigurePage[] = [
  {
    id: "overspeed",
    name: "overspeed: limit, verify point, abort window",
    says: "How high an overspeed trip may be set, where a test mode is seen to act, and when a real overspeed is broken off.",
    caution:
      "Speed above rated: flying parts. Everybody is out of the plane of rotation, the hand stop is manned and proven before, and one speed is agreed at which it is pulled.",
    sources: [
      read("46 CFR", "111.12-1(b)", "2015 annual edition, may have changed in 2023"),
      { cite: "IACS UR M3", paragraph: "M3.1.2, M3.2", mark: "memory" },
      ARITHMETIC,
    ],
    sums: [
      {
        id: "limit",
        title: "Highest trip speed",
        formula: [
          "n = 1.15 × rated speed; 1.2 × for a main engine that can be declutched",
          "rounded down to 0.1 rpm, so that rounding never raises a limit",
        ],
        inputs: [
          amount("rated", "Rated speed", "rpm"),
          choice("drives", "What it drives", [
            ["generator", "a generator"],
            ["propulsion", "a propeller that can be declutched or has controllable pitch"],
          ]),
        ],
        work: (given) =>
          outcomes(overspeedLimit(given.number("rated"), FACTORS[given.one("drives", DRIVES)]), (limit) => [
            outcome(
              "highest trip speed",
              limit,
              "rpm",
              1,
              "A trip set above it does not keep the rule; the maker’s own limit may be lower.",
            ),
          ]),
        example: {
          given: { rated: "900 rpm", drives: "generator" },
          gives: [["highest trip speed", 1035]],
          source: "46 CFR 111.12-1(b), worked: 1035 rpm passes and 1036 rpm does not",
        },
      },
      {
        id: "verify",
        title: "Verify point of a test mode",
        formula: ["threshold = fraction × set point; seen not to act a spread below it, to act a spread above it"],
        inputs: [
          amount("setPoint", "Set point", "rpm"),
          amount("fraction", "Fraction to which the mode lowers it", undefined, { hint: "Such as 0.75" }),
          amount("spread", "Spread about it", "rpm"),
        ],
        work: (given) =>
          outcomes(
            verifyPoint(given.number("setPoint"), given.number("fraction"), given.number("spread")),
            ({ thresholdRpm, holdsAtRpm, tripsAtRpm }) => [
              outcome("threshold", thresholdRpm, "rpm", 2),
              outcome("no trip at", holdsAtRpm, "rpm", 2),
              outcome("trip at", tripsAtRpm, "rpm", 2),
            ],
          ),
        example: {
          given: { setPoint: "2070 rpm", fraction: "0.75", spread: "25 rpm" },
          gives: [
            ["threshold", 1552.5],
            ["no trip at", 1527.5],
            ["trip at", 1577.5],
          ],
          source: "TM 5-2815-232-14, 25 rpm about 75 % of the set point",
        },
      },
      {
        id: "abort",
        title: "When a real overspeed is broken off",
        formula: ["from set point + tolerance + tachometer error, to the lowest of the limits"],
        inputs: [
          amount("setPoint", "Set point", "rpm"),
          amount("tolerance", "Tolerance, either way", "rpm"),
          amount("error", "Tachometer error, either way", "rpm"),
          amount("rule", "Rule limit", "rpm", { optional: true, hint: "Left out where there is none (optional)" }),
          amount("maker", "Maker’s maximum", "rpm", { optional: true, hint: "Left out where it is not known (optional)" }),
          amount("alternator", "Alternator’s limit", "rpm", { optional: true, hint: "Left out where it is not known (optional)" }),
        ],
        work: (given) => {
          const window = abortWindow({
            setPoint: given.number("setPoint"),
            tolerance: given.number("tolerance"),
            tachometerError: given.number("error"),
            ruleLimit: given.maybe("rule"),
            makersMaximum: given.maybe("maker"),
            alternatorLimit: given.maybe("alternator"),
          });
          return success(
            window.empty
              ? [outcome("window", "none", undefined, undefined, `The real overspeed is not planned: ${window.reason}.`)]
              : [
                  outcome("from", window.from, "rpm", 1, "Until here a trip may still come as it should."),
                  outcome("to", window.to, "rpm", 1, `Stopped by hand before this: it is ${LIMITED_BY[window.limitedBy]}.`),
                ],
          );
        },
        example: {
          given: { setPoint: "1980 rpm", tolerance: "20 rpm", error: "5 rpm", rule: "2070 rpm", maker: "2050 rpm", alternator: "" },
          gives: [
            ["from", 2005],
            ["to", 2050],
          ],
          source: "worked for this figure",
        },
      },
      {
        id: "frequency",
        title: "Frequency at a speed",
        formula: ["f = n × poles ÷ 120"],
        inputs: [amount("speed", "Speed", "rpm"), whole("poles", "Poles", { hint: "Poles, not pairs" })],
        work: (given) =>
          outcomes(frequencyFromSpeed(given.number("speed"), given.number("poles")), (hertz) => [outcome("frequency", hertz, "Hz", 2)]),
        example: {
          given: { speed: "2070 rpm", poles: "4" },
          gives: [["frequency", 69, 1e-9]],
          source: "worked: 115 % of 1800 rpm is 69 Hz on four poles",
        },
      },
      {
        id: "speed",
        title: "Speed of a frequency",
        formula: ["n = 120 × f ÷ poles"],
        inputs: [amount("frequency", "Frequency", "Hz"), whole("poles", "Poles", { hint: "Poles, not pairs" })],
        work: (given) =>
          outcomes(speedFromFrequency(given.number("frequency"), given.number("poles")), (rpm) => [
            outcome("synchronous speed", rpm, "rpm", 1),
          ]),
        example: {
          given: { frequency: "60 Hz", poles: "10" },
          gives: [["synchronous speed", 720, 0.0005]],
          source: "published table of synchronous speeds",
        },
      },
    ],
  },
  {
    id: "shaftGenerator",
    name: "shaft generators: ratio, frequency, window of speed",
    says: "What a shaft generator gives at a shaft speed, and between which speeds it keeps to its frequency.",
    caution:
      "A turning propeller: no divers, no boats, moorings tended, bridge and engine room in touch. Only under way or with the shaft free to turn as agreed.",
    sources: [FREQUENCY_BAND.lastingPercent.basis, ARITHMETIC],
    sums: [
      {
        id: "frequency",
        title: "Frequency at a shaft speed",
        formula: ["f = n × i × poles ÷ 120", "i step-up ratio"],
        inputs: [
          amount("shaft", "Shaft speed", "rpm"),
          amount("ratio", "Step-up ratio"),
          whole("poles", "Poles", { hint: "Poles, not pairs" }),
        ],
        work: (given) =>
          outcomes(shaftFrequency(given.number("shaft"), given.number("ratio"), given.number("poles")), (hertz) => [
            outcome("frequency", hertz, "Hz", 3),
          ]),
        example: {
          given: { shaft: "600 rpm", ratio: "3.6", poles: "4" },
          gives: [["frequency", 72, 0.0005]],
          source: "worked: a propulsion trip at 600 rpm drives the generator past its own limit",
        },
      },
      {
        id: "ratio",
        title: "Ratio between two speeds",
        formula: ["i = generator speed ÷ shaft speed"],
        inputs: [amount("shaft", "Shaft speed", "rpm"), amount("generator", "Generator speed", "rpm")],
        work: (given) =>
          outcomes(ratioNeeded(given.number("shaft"), given.number("generator")), (ratio) => [outcome("ratio", ratio, undefined, 6)]),
        example: {
          given: { shaft: "105 rpm", generator: "1800 rpm" },
          gives: [["ratio", 17.142857, 5e-7]],
          source: "worked for this figure",
        },
      },
      {
        id: "window",
        title: "Shaft speeds that keep the frequency",
        formula: ["n = (120 × f ÷ poles) ÷ i × (1 ± deviation)"],
        inputs: [
          amount("frequency", "Rated frequency", "Hz"),
          amount("ratio", "Step-up ratio"),
          whole("poles", "Poles", { hint: "Poles, not pairs" }),
          amount("percent", "Permitted deviation", "%", {
            optional: true,
            hint: "5 %, which is from memory, where it is left out (optional)",
          }),
        ],
        work: (given) =>
          outcomes(
            speedWindow({
              hertz: given.number("frequency"),
              ratio: given.number("ratio"),
              poles: given.number("poles"),
              percent: given.maybe("percent"),
            }),
            ({ lowestRpm, highestRpm, lowestHertz, highestHertz }) => [
              outcome("lowest shaft speed", lowestRpm, "rpm", 1),
              outcome("highest shaft speed", highestRpm, "rpm", 1),
              outcome("lowest frequency", lowestHertz, "Hz", 2),
              outcome("highest frequency", highestHertz, "Hz", 2),
            ],
          ),
        example: {
          given: { frequency: "60 Hz", ratio: "3.6", poles: "4", percent: "5 %" },
          gives: [
            ["lowest shaft speed", 475],
            ["highest shaft speed", 525],
            ["lowest frequency", 57],
            ["highest frequency", 63],
          ],
          source: "main engine of 500 rpm, IACS UR E5 from memory",
        },
      },
    ],
  },
];
