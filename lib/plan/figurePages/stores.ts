import { airStarts, freeAir, joinedPressure, receiverVolume } from "../../figures/airStarts.ts";
import { batteryStarts, chargePerCrank, crankingCurrent } from "../../figures/batteryStarts.ts";
import { hydraulicStarts, prechargeAt, prechargeFits, usableOil } from "../../figures/hydraulicStarts.ts";
import { ARITHMETIC, amount, choice, outcome, outcomes, read, whole } from "./build.ts";
import type { FigurePage, Input } from "./types.ts";

const REFERENCE: Input = amount("reference", "Pressure at which free air is given", "bar", {
  optional: true,
  hint: "Absolute; one standard atmosphere, 1.01325 bar, where it is left out (optional)",
});
const FALL: readonly Input[] = [
  amount("from", "Full pressure", "bar", { hint: "Gauge" }),
  amount("to", "Lowest starting pressure", "bar", { hint: "Gauge" }),
];

const GAS = ["slow charge, fast use", "slow", "fast"] as const;
const ACCUMULATOR: readonly Input[] = [
  amount("litres", "Gas volume when empty of oil", "L"),
  amount("precharge", "Precharge of gas", "bar", { hint: "Gauge, without oil" }),
  amount("lowest", "Lowest starting pressure", "bar", { hint: "Gauge" }),
  amount("charged", "Charged pressure", "bar", { hint: "Gauge" }),
];

const STORED_ENERGY =
  "Starting energy moves machinery. Stores are drawn down and filled by the ship’s people only, with nobody at flywheel, belts or couplings.";

export const storePages: readonly FigurePage[] = [
  {
    id: "airStarts",
    name: "starts in starting-air receivers",
    says: "How many starts receivers hold without being filled, and how large they must be.",
    caution: STORED_ENERGY,
    sources: [read("receiver formulas of compressed-air calculation, isothermal"), ARITHMETIC],
    sums: [
      {
        id: "starts",
        title: "Starts in receivers",
        formula: [
          "n = V × (p1 − p2) ÷ (p0 × v)",
          "V volume of the receivers; p1, p2 full and lowest pressure; p0 pressure of free air; v free air for one start",
        ],
        inputs: [
          amount("volume", "Volume of the receivers together", "m³"),
          amount("perStart", "Free air for one start", "m³"),
          ...FALL,
          REFERENCE,
        ],
        work: (given) =>
          outcomes(
            airStarts(given.number("volume"), given.number("perStart"), {
              fromBar: given.number("from"),
              toBar: given.number("to"),
              referenceBar: given.maybe("reference"),
            }),
            ({ exact, whole: starts }) => [
              outcome("whole starts", starts, undefined, 0, "What is left over starts nothing; no air comes in meanwhile."),
              outcome("as worked out", exact, undefined, 2),
            ],
          ),
        example: {
          given: { volume: "5 m³", perStart: "4 m³", from: "30 bar", to: "18 bar", reference: "1 bar" },
          gives: [
            ["whole starts", 15],
            ["as worked out", 15, 0.005],
          ],
          source: "two receivers of 2.5 m³, worked for this figure; at 1.01325 bar it would be 14 starts",
        },
      },
      {
        id: "volume",
        title: "Receivers for so many starts",
        formula: ["V = n × v × p0 ÷ (p1 − p2)"],
        inputs: [whole("starts", "Starts wanted"), amount("perStart", "Free air for one start", "m³"), ...FALL, REFERENCE],
        work: (given) =>
          outcomes(
            receiverVolume(given.number("starts"), given.number("perStart"), {
              fromBar: given.number("from"),
              toBar: given.number("to"),
              referenceBar: given.maybe("reference"),
            }),
            (volume) => [outcome("volume", volume, "m³", 3, "All receivers together.")],
          ),
        example: {
          given: { starts: "6", perStart: "1.2 m³", from: "30 bar", to: "18 bar", reference: "1 bar" },
          gives: [["volume", 0.6, 1e-9]],
          source: "published receiver formula, 3.0 to 1.8 MPa, worked for this figure",
        },
      },
      {
        id: "air",
        title: "Free air that receivers give",
        formula: ["v = V × (p1 − p2) ÷ p0"],
        inputs: [amount("volume", "Volume of the receivers together", "m³"), ...FALL, REFERENCE],
        work: (given) =>
          outcomes(
            freeAir(given.number("volume"), {
              fromBar: given.number("from"),
              toBar: given.number("to"),
              referenceBar: given.maybe("reference"),
            }),
            (air) => [outcome("free air", air, "m³", 2)],
          ),
        example: {
          given: { volume: "5", from: "30", to: "0", reference: "" },
          gives: [["free air", 148.04, 0.005]],
          source: "air that fills 5 m³ to 30 bar, worked for this figure",
        },
      },
      {
        id: "joined",
        title: "Two receivers joined",
        formula: ["p = (p1 × V1 + p2 × V2) ÷ (V1 + V2)"],
        inputs: [
          amount("first", "Volume of the one", "L"),
          amount("firstBar", "Pressure in it", "bar"),
          amount("second", "Volume of the other", "L"),
          amount("secondBar", "Pressure in the other", "bar"),
        ],
        work: (given) =>
          outcomes(
            // Only the proportion of the volumes counts, so that litres do as well as cubic metres.
            joinedPressure([
              { cubicMetres: given.number("first"), bar: given.number("firstBar") },
              { cubicMetres: given.number("second"), bar: given.number("secondBar") },
            ]),
            (bar) => [outcome("pressure", bar, "bar", 2, "Where both settle, gauge or absolute as given.")],
          ),
        example: {
          given: { first: "12 L", firstBar: "50 bar", second: "24 L", secondBar: "200 bar" },
          gives: [["pressure", 150, 1e-9]],
          source: "published example of two joined cylinders",
        },
      },
    ],
  },
  {
    id: "batteryStarts",
    name: "starts in a battery",
    says: "What one crank takes, and how many a battery holds at the least favourable.",
    caution: STORED_ENERGY,
    sources: [read("starter-battery maker’s page on charge for a crank"), read("TM 9-8000", "cold and cranking capacity"), ARITHMETIC],
    sums: [
      {
        id: "charge",
        title: "Charge for one crank",
        formula: ["Q = I × t ÷ 3600", "I cranking current; t seconds of cranking"],
        inputs: [amount("current", "Cranking current", "A"), amount("seconds", "Time of cranking", "s")],
        work: (given) =>
          outcomes(chargePerCrank(given.number("current"), given.number("seconds")), (charge) => [outcome("charge", charge, "Ah", 4)]),
        example: {
          given: { current: "650 A", seconds: "0.25 s" },
          gives: [["charge", 0.0451, 0.00005]],
          source: "published by sens-usa.com",
        },
      },
      {
        id: "current",
        title: "Cranking current of a starter",
        formula: ["I = P ÷ (U × η)", "P power of the starter; U voltage; η efficiency"],
        inputs: [
          amount("power", "Power of the starter", "kW"),
          amount("voltage", "Voltage", "V"),
          amount("efficiency", "Efficiency", undefined, { hint: "A share such as 0.6" }),
        ],
        work: (given) =>
          outcomes(crankingCurrent(given.number("power"), given.number("voltage"), given.number("efficiency")), (current) => [
            outcome("current", current, "A", 1),
          ]),
        example: {
          given: { power: "9 kW", voltage: "24 V", efficiency: "0.6" },
          gives: [["current", 625, 1e-9]],
          source: "published worked example (studyres 7246190)",
        },
      },
      {
        id: "starts",
        title: "Starts in a battery",
        formula: [
          "n = C × k × (1 − e) ÷ Q",
          "C capacity; k share that cold leaves; e share left when it no longer cranks; Q charge for one crank",
        ],
        inputs: [
          amount("capacity", "Capacity", "Ah"),
          amount("crank", "Charge for one crank", "Ah"),
          amount("left", "Share left when it no longer cranks", undefined, { hint: "From 0 to below 1" }),
          amount("cold", "Share that cold leaves", undefined, { hint: "1 where it is warm; at −18 °C about 0.4" }),
        ],
        work: (given) =>
          outcomes(
            batteryStarts(
              { ampereHours: given.number("capacity"), endOfUseFraction: given.number("left"), coldFactor: given.number("cold") },
              given.number("crank"),
            ),
            ({ exact, whole: starts }) => [
              outcome(
                "whole starts",
                starts,
                undefined,
                0,
                "A capacity by the hour flatters a cranking battery: it holds no more than this.",
              ),
              outcome("as worked out", exact, undefined, 2),
            ],
          ),
        example: {
          given: { capacity: "30 Ah", crank: "2.5 Ah", left: "0", cold: "0.4" },
          gives: [["whole starts", 4]],
          source: "12 cranks of 2.5 Ah in 30 Ah, of which 40 % are left at −18 °C (TM 9-8000)",
        },
      },
    ],
  },
  {
    id: "hydraulicStarts",
    name: "starts in an accumulator",
    says: "The oil that a gas-loaded accumulator gives, and how many starts that is.",
    caution: "An accumulator keeps its pressure when all else is dead. It is opened, charged and vented by qualified people only.",
    sources: [read("gas laws as accumulator makers’ pages give them"), read("hydrospeichertechnik.de", "limits of bladder accumulators")],
    sums: [
      {
        id: "oil",
        title: "Oil that it gives",
        formula: [
          "charged slowly, used fast: v = V × (p0 ÷ p2) × ((p2 ÷ p1)^(1 ÷ 1.4) − 1)",
          "slowly both ways: v = V × (p0 ÷ p1 − p0 ÷ p2); fast both ways: each quotient to the power 1 ÷ 1.4",
          "V gas volume; p0 precharge; p1, p2 lowest and charged pressure, all absolute",
        ],
        inputs: [
          ...ACCUMULATOR,
          choice("change", "How the gas changes", [
            ["slow charge, fast use", "charged slowly, used fast, as for starting"],
            ["slow", "slowly both ways"],
            ["fast", "fast both ways"],
          ]),
        ],
        work: (given) => {
          const accumulator = {
            litres: given.number("litres"),
            prechargeBar: given.number("precharge"),
            lowestBar: given.number("lowest"),
            chargedBar: given.number("charged"),
          };
          const fits = prechargeFits(accumulator);
          return outcomes(usableOil(accumulator, given.one("change", GAS)), (oil) => [
            outcome("oil", oil, "L", 3),
            outcome(
              "use of a bladder accumulator",
              fits.ok && fits.value ? "within its limits" : "outside its limits",
              undefined,
              undefined,
              "Lowest pressure at least 1.1 times, charged pressure at most 4 times the precharge.",
            ),
          ]);
        },
        example: {
          given: { litres: "1 L", precharge: "90 bar", lowest: "100 bar", charged: "200 bar", change: "slow" },
          gives: [["oil", 0.4482, 0.00005]],
          source: "published by machinecalcs.com, on absolute pressures",
        },
      },
      {
        id: "starts",
        title: "Starts in it",
        formula: ["n = v ÷ oil for one start, v as above, charged slowly and used fast"],
        inputs: [...ACCUMULATOR, amount("perStart", "Oil for one start", "L")],
        work: (given) =>
          outcomes(
            hydraulicStarts(
              {
                litres: given.number("litres"),
                prechargeBar: given.number("precharge"),
                lowestBar: given.number("lowest"),
                chargedBar: given.number("charged"),
              },
              given.number("perStart"),
            ),
            ({ exact, whole: starts }) => [outcome("whole starts", starts, undefined, 0), outcome("as worked out", exact, undefined, 2)],
          ),
        example: {
          given: { litres: "20 L", precharge: "1250 psi", lowest: "1500 psi", charged: "3250 psi", perStart: "0.9 L" },
          gives: [["whole starts", 6]],
          source: "3250 to 1500 psi as in TM 55-1905-219-14-1: 0.2831 L for each litre of volume",
        },
      },
      {
        id: "precharge",
        title: "Precharge at another temperature",
        formula: ["p = p0 × T ÷ T0, absolute pressures and temperatures"],
        inputs: [
          amount("precharge", "Precharge", "bar", { hint: "Gauge" }),
          amount("before", "Temperature when it was charged", "°C"),
          amount("now", "Temperature now", "°C"),
        ],
        work: (given) =>
          outcomes(prechargeAt(given.number("precharge"), given.number("before"), given.number("now")), (bar) => [
            outcome("precharge", bar, "bar", 1, "Gauge, at the temperature now."),
          ]),
        example: {
          given: { precharge: "100 bar", before: "20 °C", now: "45 °C" },
          gives: [["precharge", 108.61, 0.005]],
          source: "gas law on absolute values, worked for this figure",
        },
      },
    ],
  },
];
