import { ABOARD, IN_TIME, NOT_TO_BE_HAD } from "../model/fact.ts";
import { jacketWaterAt } from "../model/facts/jacketWater.ts";
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

export const needs: readonly Need[] = [
  available(
    "reference-gauge",
    "equipment",
    supportAt.referenceGauge,
    "local",
    "reference pressure gauge, 0 to 10 bar or the sensor's range, certificate in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "pressure-comparator",
    "equipment",
    supportAt.pressureComparator,
    "local",
    "hand pump with reference gauge for the sensor's range, certificate in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "reference-thermometer",
    "equipment",
    supportAt.referenceThermometer,
    "local",
    "reference thermometer, 0 to 120 °C, certificate in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "heat-block",
    "equipment",
    supportAt.heatBlock,
    "local",
    "dry-block heater or closed stirred bath reaching 20 °C above the set point, with reference thermometer, certificate in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "signal-source",
    "equipment",
    supportAt.signalSource,
    "local",
    "calibrated source for the sensing element (decade box, current or voltage source), certificate in date on the day",
    { actor: "electrician" },
  ),
  available(
    "function-generator",
    "equipment",
    supportAt.functionGenerator,
    "local",
    "function generator with a frequency reading, certificate in date on the day",
    { actor: "electrician" },
  ),
  available(
    "tachometer",
    "equipment",
    supportAt.tachometer,
    "local",
    "second tachometer independent of the ship's, certificate in date on the day",
    { actor: "chief engineer" },
  ),
  available(
    "speed-target",
    "equipment",
    supportAt.speedTarget,
    "local",
    "rotating target with speed reading to excite the pick-up, certificate in date on the day",
    { actor: "electrician" },
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
  asked("approved-procedure", "document", "superintendent", "the test procedure approved for this vessel, with its date"),
  asked("sealing-washer", "spare", "chief engineer", "sealing washers for each sensor or plug that is opened", { perSet: true }),
  asked("coolant", "spare", "chief engineer", "coolant and the same inhibitor to make good what is lost"),
  asked(
    "overspeed-clear",
    "condition",
    "chief engineer",
    "for the overspeed test: engine warm and in good order, generator breaker blocked from closing, space cleared except for two people, nobody in the plane of rotation",
  ),
];
