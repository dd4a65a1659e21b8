import { ABOARD, IN_TIME, NOT_TO_BE_HAD } from "../model/fact.ts";
import { fireReleaseAt, lossOfPowerAt } from "../model/facts/emergency.ts";
import { jacketWaterAt } from "../model/facts/jacketWater.ts";
import { shaftTripsAt } from "../model/facts/shaft.ts";
import { supportAt } from "../model/facts/support.ts";
import type { Lead, Need, Way } from "./types.ts";

const burdenOf: Readonly<Record<Lead, Way["burden"]>> = { reply: 0, local: 1, sent: 2, specialist: 3, authority: 4 };

const available = (id: string, kind: Need["kind"], at: string, lead: Lead, text: string, more: Partial<Need> = {}): Need => ({
  id,
  kind,
  text,
  actor: "superintendent",
  lead,
  at,
  // What can be hired at the place counts alike wherever it comes from; what must be sent or must travel does not.
  ways:
    lead === "local"
      ? [{ values: [ABOARD, IN_TIME], burden: burdenOf.local }]
      : [
          { values: [ABOARD], burden: 0 },
          { values: [IN_TIME], burden: burdenOf[lead] },
        ],
  refusedIs: NOT_TO_BE_HAD,
  ...more,
});

const asked = (id: string, kind: Need["kind"], actor: Need["actor"], text: string, more: Partial<Need> = {}): Need => ({
  id,
  kind,
  text,
  actor,
  lead: "reply",
  ...more,
});

/** The document that says which step covers which test. */
export const APPROVED_PROCEDURE = "approved-procedure";

/** How the text of a measuring instrument ends; a letter that asks for several says it once. */
export const CERTIFIED = ", certificate in date on the day";

export const needs: readonly Need[] = [
  available(
    "reference-gauge",
    "equipment",
    supportAt.referenceGauge,
    "local",
    `reference pressure gauge, 0 to 10 bar or the sensor's range${CERTIFIED}`,
    { actor: "chief engineer" },
  ),
  available(
    "pressure-comparator",
    "equipment",
    supportAt.pressureComparator,
    "local",
    `hand pump with reference gauge for the sensor's range${CERTIFIED}`,
    { actor: "chief engineer" },
  ),
  available(
    "reference-thermometer",
    "equipment",
    supportAt.referenceThermometer,
    "local",
    `reference thermometer, 0 to 120 °C${CERTIFIED}`,
    { actor: "chief engineer" },
  ),
  available(
    "heat-block",
    "equipment",
    supportAt.heatBlock,
    "local",
    `dry-block heater or closed stirred bath reaching 20 °C above the set point, with reference thermometer${CERTIFIED}`,
    { actor: "chief engineer" },
  ),
  available(
    "signal-source",
    "equipment",
    supportAt.signalSource,
    "local",
    `calibrated source for the sensing element (decade box, current or voltage source)${CERTIFIED}`,
    { actor: "electrician" },
  ),
  available(
    "function-generator",
    "equipment",
    supportAt.functionGenerator,
    "local",
    `function generator with a frequency reading${CERTIFIED}`,
    { actor: "electrician" },
  ),
  available("tachometer", "equipment", supportAt.tachometer, "local", `second tachometer independent of the ship's${CERTIFIED}`, {
    actor: "chief engineer",
  }),
  available(
    "speed-target",
    "equipment",
    supportAt.speedTarget,
    "local",
    `rotating target with speed reading to excite the pick-up${CERTIFIED}`,
    { actor: "electrician" },
  ),
  available(
    "power-meter",
    "equipment",
    supportAt.powerMeter,
    "local",
    `power meter that shows the direction of power, or the board's own with its certificate${CERTIFIED}`,
    { actor: "electrician" },
  ),
  available(
    "absolute-gauge",
    "equipment",
    supportAt.absoluteGauge,
    "local",
    "test pump for pressure and vacuum with an absolute gauge, and a barometer, certificates in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "mist-kit",
    "equipment",
    supportAt.mistKit,
    "sent",
    "test kit of the oil-mist detector's maker (test mist or filter), in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "relay-technician",
    "technician",
    supportAt.relayTechnician,
    "specialist",
    "switchboard and relay technician with an injection set and its certificate in date on the day, of any firm that knows the relay, or the ship's own set and a trained person",
  ),
  available(
    "converter-technician",
    "technician",
    supportAt.converterTechnician,
    "specialist",
    "technician for the shaft generator's converter with the list of its modes and trips, of its maker or any firm that services it, or a trained person of the ship",
  ),
  available(
    "turbine-engineer",
    "technician",
    supportAt.turbineEngineer,
    "specialist",
    "engineer of the turbine's maker or of a firm he has trained for the trip gear, or the ship's own engineer where the maker accepts that",
  ),
  available(
    "written-acceptance",
    "document",
    supportAt.writtenAcceptance,
    "authority",
    "the authority's written acceptance of the test technique",
  ),
  available(
    "service-engineer",
    "technician",
    supportAt.serviceEngineer,
    "specialist",
    "engine maker's service engineer with the service tool, or the ship's own tool and a person trained on it; he stays until codes and derates are cleared and the set has run on load",
  ),
  available(
    "test-manifold",
    "equipment",
    supportAt.testManifold,
    "sent",
    "temporary test manifold (shut-off, sensor, gauge, bleed valve) with the threads of the sensor, with seals",
  ),
  available(
    "lube-oil-spare",
    "spare",
    supportAt.lubeOilSpare,
    "sent",
    "spare oil-pressure sensor of the same type and range, with sealing washer",
    { perSet: true },
  ),
  available(
    "jacket-water-spare",
    "spare",
    supportAt.jacketWaterSpare,
    "sent",
    "spare jacket-water sensor of the same type, with sealing washer",
    { perSet: true },
  ),
  {
    id: "drained-state",
    kind: "condition",
    text: "set cold and locked out, jacket-water circuit isolated, preheater locked off, vented with the gauge at zero, drained below the well; coolant and inhibitor for refilling; another set able to carry the ship for half a day",
    actor: "chief engineer",
    lead: "reply",
    at: jacketWaterAt.drained,
    ways: [{ values: ["offered"], burden: 2 }],
    refusedIs: "refused",
  },
  {
    id: "ship-safe",
    kind: "condition",
    text: "the ship made safe for a loss of power: alongside or at anchor, cargo and lifting stopped, lifts empty, terminal, harbour and bridge warned, sensitive consumers secured, nobody in dark spaces; the master agrees in writing",
    actor: "master",
    lead: "reply",
    at: lossOfPowerAt.shipSafe,
    ways: [{ values: ["offered"], burden: 2 }],
    refusedIs: "refused",
  },
  {
    id: "bottles-apart",
    kind: "condition",
    text: "extinguishing bottles and pilot lines of the space disconnected and tagged by a competent person, another means of fighting fire at hand",
    actor: "chief engineer",
    lead: "reply",
    at: fireReleaseAt.bottlesApart,
    ways: [{ values: ["offered"], burden: 2 }],
    refusedIs: "refused",
  },
  {
    id: "sea-room",
    kind: "condition",
    text: "sea room and no traffic for changes of speed, with the master's agreement and the bridge told before each",
    actor: "master",
    lead: "reply",
    at: shaftTripsAt.seaRoom,
    ways: [{ values: ["offered"], burden: 2 }],
    refusedIs: "refused",
  },
  asked(
    "independent-reading",
    "condition",
    "chief engineer",
    "an independent local reading of the same value (gauge or thermometer) that can be watched while the channel is blind",
  ),
  asked("stop-watch", "equipment", "chief engineer", "stop-watch at the place where the time is read"),
  asked(
    "governor-hand",
    "technician",
    "chief engineer",
    "a person who can raise and hold the speed and the load by hand: ship's engineer or governor technician",
  ),
  asked("switchboard-hand", "technician", "electrician", "the ship's electrician at the main board, and the breaker control at hand"),
  asked("single-line-diagram", "document", "chief engineer", "single-line diagram of the electric plant"),
  asked(
    "starting-data",
    "document",
    "chief engineer",
    "starting-system data: stores, pressures or charge, starts, second source of an emergency set",
  ),
  asked("relay-settings", "document", "electrician", "settings and manual of the protection relay, and the list of what each stage trips"),
  asked("mode-list", "document", "electrician", "list of the shaft generator's modes with the trips that are live in each"),
  asked("hours-of-rest", "document", "master", "hours of rest of the people who take part, so that the tests fit in"),
  asked(
    "port-times",
    "document",
    "master",
    "cargo, tide and bunker times of the visit, and whether terminal or berth forbid a loss of power or a turning shaft",
  ),
  asked(
    "cold-machine",
    "condition",
    "chief engineer",
    "the generator at rest from the evening before, and not started until its cold windings have been compared",
    { perSet: true },
  ),
  asked("load-in-port", "condition", "chief engineer", "load on the board during the tests, and which sets can carry it with one set out"),
  asked(
    "stores-full",
    "condition",
    "chief engineer",
    "starting stores full before the emergency set is tried, before the loss of power and before leaving; charger or compressor running between",
  ),
  asked(
    "shaft-turning",
    "condition",
    "master",
    "shaft free to turn as agreed: moorings tended, no divers or boats at the propeller, bridge and berth told",
  ),
  asked(
    "steam-plant",
    "condition",
    "chief engineer",
    "boiler and condenser steady at no load of the set, turbine warm, drains open, stand-by and emergency oil pumps proven the same day",
  ),
  asked("clean-fuel", "equipment", "chief engineer", "a little clean fuel and a drip tray, rags and an extinguisher beside it"),
  asked(
    "gas-mode",
    "condition",
    "chief engineer",
    "gas supply ready and gas detection live for the change-over, with the terminal's and the port's consent",
  ),
  asked(
    "set-available",
    "condition",
    "chief engineer",
    "each set to be tested free to start and stop at no load, with the ship's supply kept by others",
  ),
  asked(
    "ships-engineer",
    "technician",
    "chief engineer",
    "a ship's engineer to operate the engine and stand at the hand stop, and an electrician at the panel; the ship performs, the inspector witnesses",
  ),
  asked(
    "maker-procedure",
    "document",
    "superintendent",
    "the maker's published test procedure for this channel, and a print-out of the stored values before and after",
  ),
  asked("panel-drawing", "document", "chief engineer", "safety panel drawing with sensor inputs, supplies and relays"),
  asked("set-point-list", "document", "chief engineer", "set-point list of the safety functions with dates"),
  asked("last-record", "document", "chief engineer", "record of the last test of these protections"),
  asked(APPROVED_PROCEDURE, "document", "superintendent", "the test procedure approved for this vessel, with its date"),
  asked("sealing-washer", "spare", "chief engineer", "sealing washers for each sensor or plug that is opened", { perSet: true }),
  asked("coolant", "spare", "chief engineer", "coolant and the same inhibitor to make good what is lost"),
  asked(
    "overspeed-clear",
    "condition",
    "chief engineer",
    "for the overspeed test: engine warm and in good order, generator breaker blocked from closing, space cleared except for two people, nobody in the plane of rotation",
  ),
];
