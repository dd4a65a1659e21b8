import { describe, expect, test } from "vitest";
import { availability } from "../../lib/model/fact.ts";
import { lasts } from "../../lib/model/lasting.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

/** Every fact that is asked again at each visit. Whoever adds a fact of the day adds it here; all others last. */
const ASKED_AGAIN: readonly string[] = [
  // Rules and papers.
  "/ruleBasis",
  "/approvedProcedure",
  "/sets/*/lubeOilPressure/approvedStep",
  "/sets/*/lubeOilAlarm/approvedStep",
  "/sets/*/jacketWaterTemperature/approvedStep",
  "/sets/*/jacketWaterAlarm/approvedStep",
  "/sets/*/overspeed/approvedStep",
  "/sets/*/secondOverspeed/approvedStep",
  "/sets/*/turbineOverspeed/approvedStep",
  "/sets/*/secondTurbineOverspeed/approvedStep",
  "/sets/*/exhaustPressure/approvedStep",
  "/sets/*/bearingTemperature/approvedStep",
  "/sets/*/windingTemperature/approvedStep",
  "/sets/*/vibration/approvedStep",
  "/sets/*/oilMist/approvedStep",
  "/sets/*/sensorFailure/approvedStep",
  "/sets/*/controlSupply/approvedStep",
  "/sets/*/gasTrip/approvedStep",
  "/sets/*/reversePower/approvedStep",
  "/sets/*/preferentialTrips/approvedStep",
  "/sets/*/undervoltageRelease/approvedStep",
  "/sets/*/overcurrent/approvedStep",
  "/sets/*/shaftTrips/approvedStep",
  "/sets/*/lossOfPower/approvedStep",
  // Instruments that come with the visit.
  "/policy/tachometerError",
  // State of the machine and of the board.
  "/sets/*/openDefects",
  "/plant/load",
  "/plant/largestStarter",
  "/plant/otherSources",
  "/sets/*/stopsAllowed",
  "/sets/*/reversePower/othersCarry",
  "/sets/*/fuelShutOff/fedOtherwise",
  "/sets/*/emergencyStart/otherSource",
  // Berth, cargo and what is ready on the day.
  "/sets/*/shaftTurns",
  "/sets/*/gasTrip/gasAtPlace",
  "/sets/*/standbyStart/realLoss",
  "/sets/*/preferentialTrips/mayDrop",
  "/sets/*/emergencyStart/storesFull",
  "/sets/*/fuelLeak/access",
  // States that the vessel offers.
  "/sets/*/jacketWaterTemperature/drainedState",
  "/sets/*/shaftTrips/seaRoom",
  "/sets/*/fireRelease/bottlesApart",
  "/sets/*/lossOfPower/shipSafe",
  // What and who can be had.
  "/support/referenceGauge",
  "/support/pressureComparator",
  "/support/referenceThermometer",
  "/support/heatBlock",
  "/support/signalSource",
  "/support/functionGenerator",
  "/support/tachometer",
  "/support/speedTarget",
  "/support/powerMeter",
  "/support/absoluteGauge",
  "/support/mistKit",
  "/support/relayTechnician",
  "/support/converterTechnician",
  "/support/writtenAcceptance",
  "/support/sisters/*/turbineEngineer",
  "/support/sisters/*/serviceEngineer",
  "/support/sisters/*/testManifold",
  "/support/sisters/*/lubeOilSpare",
  "/support/sisters/*/jacketWaterSpare",
];

test("exactly these are asked again; each of them is a fact", () => {
  expect(
    rulebook.facts
      .filter((spec) => !lasts(spec))
      .map(({ at }) => at)
      .sort(),
  ).toEqual([...ASKED_AGAIN].sort());
});

describe("rules that hold whatever facts are added", () => {
  const asked = rulebook.facts.filter(({ carriedBy }) => carriedBy === "request");
  const had = rulebook.facts.filter(({ domain }) => domain === availability);
  const steps = rulebook.facts.filter(({ at }) => at.endsWith("/approvedStep"));

  test("there are such facts", () => {
    expect(asked.length).toBeGreaterThan(20);
    expect(had.length).toBeGreaterThan(15);
    expect(steps.length).toBeGreaterThan(20);
  });
  test.each([...asked, ...had])("$at is for one visit", (spec) => {
    expect(lasts(spec)).toBe(false);
  });
  test.each(steps)("$at does not outlast the procedure it is a step of", (spec) => {
    expect(lasts(spec)).toBe(false);
  });
  test("a request does not last wherever it stands", () => {
    const [machine] = rulebook.facts.filter(({ at }) => at === "/sets/*/primeMover");
    if (machine === undefined) throw new Error("no prime mover");
    expect(lasts(machine)).toBe(true);
    expect(lasts({ ...machine, carriedBy: "request" })).toBe(false);
  });
});

describe("what belongs to the machinery lasts", () => {
  const MACHINERY = [
    "/plant/emergencyPower",
    "/plant/unattended",
    "/plant/noise",
    "/plant/start/storedStarts",
    "/plant/start/fullPressure",
    "/sets/*/role",
    "/sets/*/primeMover",
    "/sets/*/parallel",
    "/sets/*/governor",
    "/sets/*/coolingCircuit",
    "/sets/*/preheater",
    "/sets/*/supplyLoss",
    "/sets/*/testBlock",
    "/sets/*/plate/ratedPower",
    "/sets/*/plate/ratedSpeed",
    "/sets/*/start/starter",
    "/sets/*/start/storedStarts",
    "/sets/*/start/batteryCapacity",
    "/sets/*/start/fuelTank",
    "/sets/*/handStop/count",
    "/sets/*/lubeOilPressure/fitted",
    "/sets/*/lubeOilPressure/insideModule",
    "/sets/*/lubeOilPressure/makerProcedure",
    "/sets/*/lubeOilPressure/isolatingValve",
    "/sets/*/lubeOilPressure/setPoint",
    "/sets/*/jacketWaterTemperature/well",
    "/sets/*/jacketWaterTemperature/immersion",
    "/sets/*/overspeed/element",
    "/sets/*/overspeed/setPoint",
    "/sets/*/overspeed/makersMaximum",
    "/sets/*/reversePower/pickUp",
    "/sets/*/reversePower/motoringPower",
    "/sets/*/reversePower/mayBeMotored",
    "/sets/*/undervoltageRelease/byRegulator",
    "/sets/*/lossOfPower/boardApart",
  ];
  test.each(MACHINERY)("%s", (at) => {
    const spec = rulebook.facts.find((fact) => fact.at === at);
    if (spec === undefined) throw new Error(`no fact ${at}`);
    expect(lasts(spec)).toBe(true);
  });
  test("two facts in three and more last", () => {
    expect(rulebook.facts.filter(lasts).length / rulebook.facts.length).toBeGreaterThan(2 / 3);
  });
});
