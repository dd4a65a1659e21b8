import { type Condition, is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import {
  jacketWaterAlarmAt,
  jacketWaterAlarmWords,
  lubeOilAlarmAt,
  lubeOilAlarmWords,
  NO_VALVE,
  VALVE_BOTH,
  VALVE_COCK,
  VALVE_CONNECTION,
  VALVE_ONLY,
} from "../../model/facts/alarmSensor.ts";
import { PLAIN_SWITCH, RATIOMETRIC, TRANSMITTER } from "../../model/facts/channel.ts";
import { STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, setMayStop, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const SEEN =
  "alarm at the set point within tolerance, seen and heard at the panel and wherever it is repeated; the set keeps running and its stop stays live";
const SAFEGUARDS = ["hand-stop-first", "no-leak", "restore-and-verify"] as const;

/** What differs between the alarm of a pressure and that of a temperature in the methods that fit both. */
interface AlarmSensor {
  readonly prefix: string;
  readonly at: typeof lubeOilAlarmAt | typeof jacketWaterAlarmAt;
  readonly signals: readonly string[];
  readonly comparison: { readonly need: string; readonly needAt: string; readonly instrument: string };
}

const byWire = ({ prefix, at, signals, comparison }: AlarmSensor): readonly Method[] => {
  const showsValue: Condition = is(at.element, ...signals);
  return [
    method({
      id: `${prefix}-plug`,
      approvable: true,
      figures: ["signal"],
      name: "signal fed in at the alarm sensor's plug",
      technique: 4,
      does: "The plug of the alarm's sensor is drawn and a calibrated signal taken through the set point; the stop has its own sensor and stays live.",
      proves: { wiring: "set point", logic: "set point", final: "set point" },
      minutes: 20,
      requirements: [practical(showsValue, "not possible because a plain switch has no signal to feed in")],
      needs: ["signal-source", "ships-engineer", "set-available"],
      details: [at.setPoint, at.rangeTo],
      cautions: [...SAFEGUARDS, "live-panel"],
      expected: SEEN,
      restore: "plug refitted and locked, live value seen",
      examples: {
        fit: { ...underClass, [at.element]: signals[0] ?? "", [supportAt.signalSource]: ABOARD },
        barred: { [at.element]: PLAIN_SWITCH },
        open: at.element,
      },
    }),
    method({
      id: `${prefix}-contact`,
      approvable: true,
      name: "contact of the alarm sensor opened or bridged",
      technique: 6,
      does: "The contact of the alarm's sensor is opened or bridged at its terminals and the alarm is seen; the stop has its own sensor and stays live.",
      proves: { wiring: "set point", logic: "running value", final: "set point" },
      grade: "action only",
      minutes: 10,
      requirements: [practical(is(at.element, PLAIN_SWITCH), "not possible because the element is not a plain switch")],
      needs: ["panel-drawing", "ships-engineer", "set-available"],
      cautions: [...SAFEGUARDS, "live-panel"],
      expected: SEEN,
      restore: "bridge removed and seen, terminals tight",
      examples: { fit: { ...underClass, [at.element]: PLAIN_SWITCH }, barred: { [at.element]: TRANSMITTER }, open: at.element },
    }),
    method({
      id: `${prefix}-comparison`,
      name: "running comparison of the alarm sensor with an independent instrument",
      technique: 7,
      does: `Engine running: the live value of the alarm's sensor is compared with ${comparison.instrument}. Nothing is stimulated.`,
      proves: { sensing: "running value", wiring: "set point" },
      grade: "running value",
      hazard: 0,
      minutes: 10,
      requirements: [practical(showsValue, "not possible because the element only opens or closes a contact and shows no value")],
      needs: [comparison.need, "ships-engineer"],
      cautions: ["no-leak"],
      expected: "both readings agree within the sum of their tolerances; it says little of the set point",
      examples: {
        fit: { ...underClass, [at.element]: signals[0] ?? "", [comparison.needAt]: ABOARD },
        barred: { [comparison.needAt]: "not to be had" },
        open: at.element,
      },
    }),
  ];
};

const oil = lubeOilAlarmAt;
const oilMethods: readonly Method[] = [
  method({
    id: "la-bleed",
    approvable: true,
    name: "bleed of the alarm sensor's isolated line",
    technique: 1,
    does: "Engine running with its real oil pressure: the alarm sensor's valve is shut and its test cock bled slowly; the gauge is read at the alarm. The stop has its own sensor and stays live.",
    ...inSteps(
      "The stop's own sensor is seen live.",
      "The valve of the alarm's sensor is shut.",
      "Its test cock is bled slowly, with the gauge watched.",
      "The gauge is read at the alarm.",
      "The alarm is seen and heard at the panel and wherever it is repeated.",
      "The test cock is shut, the valve opened and running pressure seen on the channel.",
    ),
    proves: WHOLE,
    minutes: 15,
    requirements: [
      practical(
        is(oil.testPoint, VALVE_COCK, VALVE_BOTH),
        "not possible because there is no valve with a test cock before the alarm's sensor",
      ),
    ],
    needs: ["reference-gauge", "ships-engineer", "set-available"],
    details: [oil.setPoint, oil.tolerance],
    cautions: [...SAFEGUARDS, "pressurised-oil"],
    expected: SEEN,
    restore: "test cock shut, isolating valve opened and seen open, channel shows running pressure",
    basis: [basis.practice, basis.bleedPractice],
    examples: {
      fit: { ...underClass, [oil.testPoint]: VALVE_COCK, [supportAt.referenceGauge]: ABOARD },
      barred: { [oil.testPoint]: VALVE_CONNECTION },
      open: oil.testPoint,
    },
  }),
  method({
    id: "la-pump",
    name: "pressure pump on the isolated alarm sensor",
    technique: 2,
    does: "Engine running: the alarm's sensor is shut off, a hand pump on its test connection holds it at running pressure and then lowers it; the reference gauge is read at the alarm. The stop has its own sensor and stays live.",
    proves: WHOLE,
    minutes: 20,
    requirements: [
      practical(
        is(oil.testPoint, VALVE_CONNECTION, VALVE_BOTH),
        "not possible because there is no valve with a connection for a test pump before the alarm's sensor",
      ),
    ],
    needs: ["pressure-comparator", "ships-engineer", "set-available"],
    details: [oil.setPoint, oil.tolerance],
    cautions: [...SAFEGUARDS, "pressurised-oil"],
    expected: SEEN,
    restore: "pump taken off, isolating valve opened and seen open, channel shows running pressure",
    examples: {
      fit: { ...underClass, [oil.testPoint]: VALVE_CONNECTION, [supportAt.pressureComparator]: ABOARD },
      barred: { [oil.testPoint]: VALVE_COCK },
      open: oil.testPoint,
    },
  }),
  method({
    id: "la-manifold",
    name: "temporary test manifold at the alarm sensor, then bleed",
    technique: 1,
    does: "At standstill a manifold with shut-off, sensor, gauge and bleed valve is fitted in the place of the alarm's sensor and proven tight; then, engine running, it is shut off and bled and the gauge read at the alarm. The stop has its own sensor and stays live.",
    ...inSteps(
      "The set is stopped, where it runs, and its start blocked.",
      "The line is seen without pressure and the alarm's sensor taken out.",
      "The manifold with shut-off, sensor, gauge and bleed valve is fitted in its place and proven tight.",
      "The start block is taken off, the engine is started and the manifold looked over for leaks.",
      "The stop's own sensor is seen live.",
      "The manifold is shut off from the line and bled slowly.",
      "The gauge is read at the alarm.",
      "The set is stopped and its start blocked.",
      "The manifold is taken out at standstill and the sensor refitted with a new seal.",
      "The start block is taken off, the set is prelubricated as the maker asks and started again.",
      "The sensor is looked over for leaks and its running pressure seen.",
    ),
    proves: WHOLE,
    minutes: 60,
    // Once to fit the manifold, once to take it out.
    stops: 2,
    starts: 2,
    requirements: [
      practical(
        is(oil.testPoint, NO_VALVE, VALVE_ONLY),
        "not needed because the alarm's sensor has a test point of its own behind its valve",
      ),
      setMayStop,
    ],
    needs: ["test-manifold", "reference-gauge", "sealing-washer", "ships-engineer", "set-available"],
    details: [oil.setPoint, oil.tolerance],
    cautions: [...SAFEGUARDS, "pressurised-oil"],
    expected: SEEN,
    restore: "manifold taken out at standstill, sensor refitted with a new seal, leak check when running",
    basis: [basis.testManifold],
    examples: {
      fit: {
        ...underClass,
        [oil.testPoint]: NO_VALVE,
        [STOPS_ALLOWED]: "yes",
        [supportAt.testManifold]: ABOARD,
        [supportAt.referenceGauge]: ABOARD,
      },
      barred: { [oil.testPoint]: VALVE_COCK },
      open: oil.testPoint,
    },
  }),
  ...byWire({
    prefix: "la",
    at: oil,
    signals: [TRANSMITTER, RATIOMETRIC],
    comparison: { need: "reference-gauge", needAt: supportAt.referenceGauge, instrument: "a reference gauge on the same oil pressure" },
  }),
  forbiddenMethod(
    "la-real-loss",
    "real loss of oil pressure to raise the alarm",
    "The engine's own oil pressure is lowered while it runs.",
    "never: lowering the real oil pressure of a running engine harms its bearings",
  ),
];

const water = jacketWaterAlarmAt;
const waterMethods: readonly Method[] = [
  method({
    id: "ja-heated",
    approvable: true,
    figures: ["heat"],
    name: "alarm sensor drawn from its dry well and heated",
    technique: 2,
    does: "Engine running: the alarm's sensor slides out of its dry well, stays on its plug and is heated in a dry block or closed stirred bath beside a reference thermometer until the alarm comes. The stop has its own sensor and stays live.",
    ...inSteps(
      "The stop's own sensor is seen live.",
      "The alarm's sensor slides out of its dry well and stays on its plug.",
      "It is put into the dry block or closed stirred bath beside the reference thermometer.",
      "It is heated slowly until the alarm comes.",
      "The reference thermometer is read at the alarm.",
      "The alarm is seen and heard at the panel and wherever it is repeated.",
      "The sensor is left to cool and put back into its well with paste.",
      "The live value is seen to follow the engine.",
    ),
    proves: WHOLE,
    minutes: 40,
    requirements: [
      practical(
        is(water.well, "dry, lead reaches a block"),
        "not possible because the alarm's sensor does not slide out of a dry well with a lead that reaches a block",
      ),
    ],
    needs: ["heat-block", "ships-engineer", "set-available"],
    details: [water.setPoint, water.tolerance],
    cautions: [...SAFEGUARDS, "no-open-bath", "hot-sensor", "coolant-level"],
    expected: SEEN,
    restore: "sensor back in its well with paste, live value seen to follow the engine",
    basis: [basis.hotBath, basis.practice],
    examples: {
      fit: { ...underClass, [water.well]: "dry, lead reaches a block", [supportAt.heatBlock]: ABOARD },
      barred: { [water.well]: "wet" },
      open: water.well,
    },
  }),
  ...byWire({
    prefix: "ja",
    at: water,
    signals: ["Pt100", "Pt1000", "thermocouple K", "thermocouple J", TRANSMITTER],
    comparison: {
      need: "reference-thermometer",
      needAt: supportAt.referenceThermometer,
      instrument: "a reference thermometer at the same water",
    },
  }),
  forbiddenMethod(
    "ja-overheat",
    "running engine heated up to the alarm",
    "Cooling is taken from the running engine until the alarm comes.",
    "never: overheating a running engine to reach the alarm",
  ),
];

const alarm = (words: typeof lubeOilAlarmWords, told: Pick<Protection, "short" | "dangerReason" | "methods" | "setPoint">): Protection => ({
  kind: words.kind,
  name: words.name,
  besideAnother: true,
  applies: words.base,
  appliesNot: "the stop is not fitted, or its alarm has no sensor of its own and is proven with it",
  danger: true,
  tolerance: `/sets/*/${words.kind}/tolerance`,
  basis: [basis.practice],
  ...told,
});

/** The alarms of oil pressure and jacket water where they have sensors of their own: channels beside the stop's. */
export const lubeOilAlarm: Protection = alarm(lubeOilAlarmWords, {
  short: "LO alarm",
  dangerReason: "the real loss of oil pressure destroys bearings",
  methods: oilMethods,
  setPoint: oil.setPoint,
});
export const jacketWaterAlarm: Protection = alarm(jacketWaterAlarmWords, {
  short: "JW alarm",
  dangerReason: "really overheating the engine harms it",
  methods: waterMethods,
  setPoint: water.setPoint,
});
