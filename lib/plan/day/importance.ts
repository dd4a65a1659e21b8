import type { Plan } from "../schema.ts";

/**
 * Kinds of protection by what weighs most if only some can be tested: what saves people and machine first, then what the ship's supply hangs on, then what
 * only warns. Common practice without a source, for the office to change with what it leaves out itself.
 */
const MOST_FIRST: readonly string[] = [
  "handStop",
  "overspeed",
  "turbineOverspeed",
  "lubeOilPressure",
  "standbyOilPump",
  "lossOfPower",
  "emergencyStart",
  "reversePower",
  "jacketWaterTemperature",
  "fuelShutOff",
  "bearingOilPressure",
  "exhaustPressure",
  "oilMist",
  "airFlap",
  "secondOverspeed",
  "secondTurbineOverspeed",
  "shaftTrips",
  "shaftDisconnect",
  "shaftHandover",
  "standbyStart",
  "gasTrip",
  "fireRelease",
  "controlSupply",
  "sensorFailure",
  "startInterlock",
  "bearingTemperature",
  "windingTemperature",
  "vibration",
  "fuelLeak",
  "lubeOilAlarm",
  "jacketWaterAlarm",
  "preferentialTrips",
  "undervoltageRelease",
  "overcurrent",
];

/** What others lean on while they are done: these go last of all, whatever the rule basis asks. */
const LEANT_ON: ReadonlySet<string> = new Set(["handStop", "shaftDisconnect", "standbyOilPump", "emergencyStart"]);

/** References of tests, the least important first: those of which the rule basis asks nothing go before those that it wants shown, within them by kind, the last set first. */
export const leastFirst = ({ sets }: Plan): readonly string[] => {
  const all = sets.flatMap(({ protections }, set) => protections.map((protection) => ({ ...protection, set })));
  const weight = (kind: string): number => {
    const place = MOST_FIRST.indexOf(kind);
    return place === -1 ? MOST_FIRST.length : place;
  };
  return [...all]
    .sort(
      (one, other) =>
        Number(LEANT_ON.has(one.kind)) - Number(LEANT_ON.has(other.kind)) ||
        Math.min(1, one.askedFor.length) - Math.min(1, other.askedFor.length) ||
        weight(other.kind) - weight(one.kind) ||
        other.set - one.set,
    )
    .map(({ ref }) => ref);
};
