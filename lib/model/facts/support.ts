import { ABOARD, availability, type FactSpec, IN_TIME, NOT_TO_BE_HAD } from "../fact.ts";

const supportFact = (at: string, question: string, inTime: string, aboard = "aboard, and in date on the day"): FactSpec => ({
  at,
  domain: availability,
  use: "deciding",
  carriedBy: "request",
  name: question
    .replace(/^(Is an? |Is the |Can the |Can an? |Can )/, "")
    .replace(/,? with a certificate in date,?/, "")
    .replace(/ (to be had|be had)\?$/, "")
    .replace(/^engine maker's service engineer come.*$/, "service engineer or ship's own tool")
    .replace(/^relay technician with an injection set come\?$/, "relay technician with injection set")
    .replace(/^technician for the shaft generator's converter come\?$/, "converter technician")
    .replace(/^engineer of the turbine's maker come.*$/, "turbine engineer")
    .replace(/ that shows direction,/, ""),
  question,
  why: "A method can only be planned with what can be had in time.",
  labels: { [ABOARD]: aboard, [IN_TIME]: inTime, [NOT_TO_BE_HAD]: "cannot be had for this visit" },
});

export const supportAt = {
  referenceGauge: "/support/referenceGauge",
  pressureComparator: "/support/pressureComparator",
  heatBlock: "/support/heatBlock",
  signalSource: "/support/signalSource",
  functionGenerator: "/support/functionGenerator",
  tachometer: "/support/tachometer",
  speedTarget: "/support/speedTarget",
  referenceThermometer: "/support/referenceThermometer",
  writtenAcceptance: "/support/writtenAcceptance",
  powerMeter: "/support/powerMeter",
  absoluteGauge: "/support/absoluteGauge",
  mistKit: "/support/mistKit",
  relayTechnician: "/support/relayTechnician",
  converterTechnician: "/support/converterTechnician",
  turbineEngineer: "/support/sisters/*/turbineEngineer",
  serviceEngineer: "/support/sisters/*/serviceEngineer",
  testManifold: "/support/sisters/*/testManifold",
  lubeOilSpare: "/support/sisters/*/lubeOilSpare",
  jacketWaterSpare: "/support/sisters/*/jacketWaterSpare",
} as const;

const hired = "can be hired or brought";
const sent = "can be sent in time";

export const supportFacts: readonly FactSpec[] = [
  supportFact(supportAt.referenceGauge, "Is a reference pressure gauge with a certificate in date to be had?", hired),
  supportFact(supportAt.pressureComparator, "Is a hand pump with reference gauge to be had?", hired),
  supportFact(supportAt.referenceThermometer, "Is a reference thermometer with a certificate in date to be had?", hired),
  supportFact(supportAt.heatBlock, "Is a dry-block heater or closed stirred bath with reference thermometer to be had?", hired),
  supportFact(
    supportAt.signalSource,
    "Is a calibrated source for the sensing element (decade box, current or voltage source) to be had?",
    hired,
  ),
  supportFact(supportAt.functionGenerator, "Is a function generator with a frequency reading to be had?", hired),
  supportFact(supportAt.tachometer, "Is a second tachometer with a certificate in date to be had?", hired),
  supportFact(supportAt.speedTarget, "Is a rotating target with a speed reading for the pick-up to be had?", hired),
  supportFact(supportAt.powerMeter, "Is a power meter that shows direction, with a certificate in date, to be had?", hired),
  supportFact(supportAt.absoluteGauge, "Is a test pump with an absolute gauge and a barometer to be had?", hired),
  supportFact(supportAt.mistKit, "Is the test kit of the oil-mist detector's maker to be had?", sent),
  supportFact(
    supportAt.relayTechnician,
    "Can a relay technician with an injection set come?",
    "can come with the injection set",
    "the ship has the set and a trained person",
  ),
  supportFact(
    supportAt.converterTechnician,
    "Can a technician for the shaft generator's converter come?",
    "can come",
    "the ship has a trained person",
  ),
  supportFact(
    supportAt.turbineEngineer,
    "Can an engineer of the turbine's maker come, or has the ship a person trained on the trip gear?",
    "the turbine engineer can come",
    "the ship has a trained person",
  ),
  supportFact(
    supportAt.writtenAcceptance,
    "Can the authority's written acceptance of the test technique be had?",
    "can be had before the visit",
    "in hand",
  ),
  supportFact(
    supportAt.serviceEngineer,
    "Can the engine maker's service engineer come, or has the ship the service tool and a person trained on it?",
    "the maker's service engineer can come",
    "the ship has the tool and a trained person",
  ),
  supportFact(supportAt.testManifold, "Is a test manifold with the threads of the oil-pressure sensor to be had?", sent),
  supportFact(supportAt.lubeOilSpare, "Is a spare oil-pressure sensor of the same type and range to be had?", sent, "aboard"),
  supportFact(supportAt.jacketWaterSpare, "Is a spare jacket-water sensor of the same type to be had?", sent, "aboard"),
];
