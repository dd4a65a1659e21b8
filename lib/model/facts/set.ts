import { is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";

const plate = (
  name: string,
  question: string,
  unit: FactSpec["unit"],
  domain: FactSpec["domain"],
  use: FactSpec["use"] = "record",
): FactSpec => ({
  at: `/sets/*/plate/${name}`,
  domain,
  ...(unit === undefined ? {} : { unit }),
  use,
  carriedBy: "question",
  name: question.replace(/^(What is the |How many )/, "").replace(/ has the alternator\?$|\?$/, ""),
  question,
  why:
    use === "deciding"
      ? "The overspeed limit and the margin of the test are counted from it."
      : "The data plate is compared with the papers and with itself.",
  look: "data plate of the alternator or engine",
  photograph: "dataPlate",
});

export const RATED_SPEED = "/sets/*/plate/ratedSpeed";
export const PRIME_MOVER = "/sets/*/primeMover";
export const COOLING = "/sets/*/cooling";
export const STOPS_ALLOWED = "/sets/*/stopsAllowed";
export const COOLING_CIRCUIT = "/sets/*/coolingCircuit";
export const PREHEATER = "/sets/*/preheater";
export const SUPPLY_LOSS = "/sets/*/supplyLoss";
export const GOVERNOR = "/sets/*/governor";
export const DEFECTS = "/sets/*/openDefects";

const setFact = (
  at: string,
  name: string,
  domain: FactSpec["domain"],
  question: string,
  why: string,
  more: Partial<FactSpec> = {},
): FactSpec => ({
  at,
  domain,
  use: "deciding",
  carriedBy: "question",
  name,
  question,
  why,
  ...more,
});

export const setFacts: readonly FactSpec[] = [
  setFact(PRIME_MOVER, "prime mover", choice("diesel"), "What drives the generator?", "This rulebook covers diesel sets.", {
    use: "record",
  }),
  setFact(
    COOLING,
    "engine cooled by",
    choice("water", "air"),
    "Is the engine cooled by water or by air?",
    "An air-cooled engine has no jacket water to protect.",
    {
      photograph: "dataPlate",
    },
  ),
  setFact(
    STOPS_ALLOWED,
    "set may be stopped for tests",
    yesNo,
    "May this set be stopped from running at no load, once for each test, while the ship's supply is kept by others?",
    "Most tests stop the engine. Where this is the only set, or starts are too few, only tests at standstill are left.",
    { look: "load on the board in port against what the other sets can carry; starting air or batteries" },
  ),
  setFact(
    SUPPLY_LOSS,
    "loss of the safety panel's supply",
    choice("stops the set", "alarm only", "drops the governor or the bus"),
    "What happens when the supply of this set's safety panel is lost?",
    "Taking the supply away is a test only where it does no more than the drawing says.",
    { look: "safety panel drawing, supply and relay page" },
  ),
  plate("ratedPower", "What is the rated power of the set?", "kW", number(1, 30000, 0.1)),
  plate("apparentPower", "What is the rated apparent power of the alternator?", "kVA", number(1, 40000, 0.1)),
  plate("powerFactor", "What is the rated power factor?", undefined, number(0.1, 1, 0.01)),
  plate("voltage", "What is the rated voltage?", "V", number(24, 15000, 1)),
  plate("current", "What is the rated current?", "A", number(1, 20000, 0.1)),
  plate("frequency", "What is the rated frequency?", "Hz", number(10, 400, 0.1)),
  plate("poles", "How many poles has the alternator?", undefined, number(2, 60, 2)),
  plate("ratedSpeed", "What is the rated speed of the engine?", "rpm", number(100, 6000, 0.1), "deciding"),
  setFact(
    COOLING_CIRCUIT,
    "jacket-water circuit",
    choice("own", "common, can be isolated", "common, cannot be isolated"),
    "Is the jacket-water circuit of this set its own, or common with other engines, and can it then be isolated?",
    "A circuit in common keeps a stopped engine hot and under pressure.",
    { look: "cooling water diagram", parent: is(COOLING, "water") },
  ),
  setFact(
    PREHEATER,
    "jacket-water preheater",
    choice("none", "can be locked off", "cannot be locked off"),
    "Has this set a jacket-water preheater, and can it be switched off and locked?",
    "A preheater keeps a stopped engine hot.",
    { parent: is(COOLING, "water") },
  ),
  setFact(
    GOVERNOR,
    "governor",
    choice("mechanical or hydraulic", "electronic"),
    "Is the governor mechanical or hydraulic, or does an electronic control set the speed?",
    "An electronic control limits the speed below the overspeed trip; the speed cannot be raised by hand to the trip.",
    { photograph: "governor" },
  ),
  setFact(
    DEFECTS,
    "open leaks or defects",
    choice("none", "some"),
    "Is any leak, defect or overdue repair open on this engine?",
    "No engine with an open leak or defect is taken above its rated speed.",
    { look: "defect list; engine log" },
  ),
];
