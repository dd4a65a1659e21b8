import { all, type Condition, is } from "../../logic/condition.ts";
import { choice, type FactSpec, number, yesNo } from "../fact.ts";

export const ROLES = ["ship service", "emergency", "shaft-driven"] as const;

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

export const ROLE = "/sets/*/role";
export const RATED_SPEED = "/sets/*/plate/ratedSpeed";
export const PRIME_MOVER = "/sets/*/primeMover";
export const COOLING = "/sets/*/cooling";
export const STOPS_ALLOWED = "/sets/*/stopsAllowed";
export const COOLING_CIRCUIT = "/sets/*/coolingCircuit";
export const PREHEATER = "/sets/*/preheater";
export const SUPPLY_LOSS = "/sets/*/supplyLoss";
export const GOVERNOR = "/sets/*/governor";
export const DEFECTS = "/sets/*/openDefects";
export const PARALLEL = "/sets/*/parallel";
export const TEST_BLOCK = "/sets/*/testBlock";
export const SHAFT_TURNS = "/sets/*/shaftTurns";
export const SHAFT_DRIVE = "/sets/*/shaftDrive";
export const MOTOR_MODE = "/sets/*/motorMode";
export const SELECTOR = "/sets/*/selectorPositions";
export const HARBOUR_USE = "/sets/*/harbourUse";
export const RATED_POWER = "/sets/*/plate/ratedPower";

export const DIESEL = "diesel";
export const DUAL_FUEL = "dual fuel";
export const STEAM = "steam turbine";
export const SHAFT = "shaft";
export const OTHER_MOVER = "other";

/** Which sets a group of facts or a protection belongs to. */
export const onDiesels: Condition = is(PRIME_MOVER, DIESEL, DUAL_FUEL);
export const onTurbines: Condition = is(PRIME_MOVER, STEAM);
export const onShafts: Condition = is(PRIME_MOVER, SHAFT);
/** Everything with an engine or turbine of its own, so with stops of its own. */
export const onEngines: Condition = is(PRIME_MOVER, DIESEL, DUAL_FUEL, STEAM);
/** Whatever can be stopped by itself: all but a generator on a propulsion shaft. */
export const offShafts: Condition = is(PRIME_MOVER, DIESEL, DUAL_FUEL, STEAM, OTHER_MOVER);
export const onEmergencySets: Condition = is(ROLE, "emergency");

export const ALONGSIDE = "alongside, declutched or at zero pitch";
export const UNDER_WAY = "only under way";

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
  setFact(ROLE, "role", choice(...ROLES), "What is this set for?", "What stops a set and what must be seen depends on its role.", {
    use: "record",
  }),
  setFact(
    PRIME_MOVER,
    "prime mover",
    choice(DIESEL, DUAL_FUEL, STEAM, SHAFT, OTHER_MOVER),
    "What drives the generator?",
    "A diesel, a steam turbine and a propulsion shaft have different protections, and these are tested in different ways.",
    {
      photograph: "dataPlate",
      labels: {
        [DUAL_FUEL]: "diesel that also burns gas",
        [SHAFT]: "propulsion engine or shaft (power take-off)",
        [OTHER_MOVER]: "something else",
      },
    },
  ),
  setFact(
    PARALLEL,
    "can run in parallel",
    yesNo,
    "Can this set run in parallel with another set or source?",
    "A set that is never paralleled has no reverse power to protect against.",
    { look: "single-line diagram; synchronising panel" },
  ),
  setFact(
    COOLING,
    "engine cooled by",
    choice("water", "air"),
    "Is the engine cooled by water or by air?",
    "An air-cooled engine has no jacket water to protect.",
    {
      photograph: "dataPlate",
      parent: onDiesels,
    },
  ),
  setFact(
    STOPS_ALLOWED,
    "set may be stopped for tests",
    yesNo,
    "May this set be stopped from running at no load, once for each test, while the ship's supply is kept by others?",
    "Most tests stop the engine. Where this is the only set, or starts are too few, only tests at standstill are left.",
    { look: "load on the board in port against what the other sets can carry; starting air or batteries", parent: offShafts },
  ),
  setFact(
    SUPPLY_LOSS,
    "loss of the safety panel's supply",
    choice("stops the set", "alarm only", "drops the governor or the bus"),
    "What happens when the supply of this set's safety panel is lost?",
    "Taking the supply away is a test only where it does no more than the drawing says.",
    { look: "safety panel drawing, supply and relay page", parent: onEngines },
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
    { look: "cooling water diagram", parent: all(onDiesels, is(COOLING, "water")) },
  ),
  setFact(
    PREHEATER,
    "jacket-water preheater",
    choice("none", "can be locked off", "cannot be locked off"),
    "Has this set a jacket-water preheater, and can it be switched off and locked?",
    "A preheater keeps a stopped engine hot.",
    { parent: all(onDiesels, is(COOLING, "water")) },
  ),
  setFact(
    GOVERNOR,
    "governor",
    choice("mechanical or hydraulic", "electronic"),
    "Is the governor mechanical or hydraulic, or does an electronic control set the speed?",
    "An electronic control limits the speed below the overspeed trip; the speed cannot be raised by hand to the trip.",
    { photograph: "governor", parent: onDiesels },
  ),
  setFact(
    DEFECTS,
    "open leaks or defects",
    choice("none", "some"),
    "Is any leak, defect or overdue repair open on this engine or turbine?",
    "No engine with an open leak or defect is taken above its rated speed.",
    { look: "defect list; engine log; for a turbine: vibration record, tightness of the governor valve", parent: onEngines },
  ),
  setFact(
    TEST_BLOCK,
    "test block at the generator's relay",
    yesNo,
    "Has the protection relay of this generator's breaker a test block with links that short the current transformers?",
    "Values are injected only where the current transformers are shorted first.",
    { look: "switchboard, relay panel", photograph: "relay" },
  ),
  setFact(
    SHAFT_TURNS,
    "shaft may turn",
    choice(ALONGSIDE, UNDER_WAY, "not during the visit"),
    "May the shaft of this generator turn for the tests: alongside with the propeller declutched or at zero pitch, only under way, or not during the visit?",
    "A shaft-driven generator is tested only while its shaft turns; a turning propeller endangers divers, moorings and boats.",
    { look: "clutch and pitch control; berth and terminal rules", parent: onShafts },
  ),
  setFact(
    SHAFT_DRIVE,
    "converter in the shaft generator's line",
    choice("no converter", "frequency converter"),
    "Does the shaft generator feed the board directly, or through a frequency converter?",
    "A converter has trips of its own, which only its technician can show.",
    { look: "single-line diagram", parent: onShafts },
  ),
  setFact(
    MOTOR_MODE,
    "motor mode",
    yesNo,
    "Can the shaft generator also drive the shaft as a motor?",
    "In motor mode reverse power is wanted and its trip is blocked; in generator mode it must be live.",
    { use: "detail", look: "operating manual of the shaft generator", parent: onShafts },
  ),
  setFact(
    SELECTOR,
    "positions of the selector",
    choice("automatic and manual", "automatic, manual and harbour", "automatic only"),
    "Which positions has the selector of the emergency set?",
    "Which stops are live depends on the position; each is tried.",
    { use: "detail", look: "selector at the emergency panel; panel drawing", photograph: "emergencyPanel", parent: onEmergencySets },
  ),
  setFact(
    HARBOUR_USE,
    "used in harbour",
    yesNo,
    "Is the emergency set also used to supply the ship in harbour?",
    "In harbour use it needs the stops of a ship-service set, and must return to emergency duty by itself.",
    { use: "detail", look: "operating instruction of the emergency set", parent: onEmergencySets },
  ),
];
