import { fuelHours, primeMoverAllowed, startsSufficient } from "../figures/emergencyPower.ts";
import { loadLeft } from "../figures/loadLeft.ts";
import { OVERCURRENT_LIMITS } from "../figures/overcurrent.ts";
import { overspeedLimit } from "../figures/overspeed.ts";
import { type Plate, plateContradictions } from "../figures/plate.ts";
import { actsWhenMotored, placeOfSetting, reversePowerBand } from "../figures/reversePower.ts";
import { loadBeside, numberIn } from "../model/carrying.ts";
import { LEAK_ALARM } from "../model/facts/machine.ts";
import { plantAt } from "../model/facts/plant.ts";
import { DIESEL, DUAL_FUEL, OTHER_MOVER, SHAFT, STEAM } from "../model/facts/set.ts";
import { BEARING_ALARM } from "../model/facts/shaft.ts";
import type { ReadVisit } from "../model/read.ts";
import { type Basis, basis } from "../rulebook/basis.ts";
import type { RuleBasis } from "../rulebook/types.ts";
import { formatNumber } from "../units/units.ts";
import { type EmergencyRules, emergencyRules, hoursWanted, storedStarts } from "./figures/emergency.ts";
import { listAnd } from "./say.ts";
import type { Plan } from "./schema.ts";

export type Finding = Plan["findings"][number];

export interface FindingInput {
  readonly read: ReadVisit;
  readonly ruleBasis: RuleBasis | null;
}

/** One set with its answers, as findings look at it. */
interface Looked extends FindingInput {
  readonly set: number;
  readonly role: string;
  readonly text: (path: string) => string | undefined;
  readonly number: (path: string) => number | undefined;
}

/** What was found on one set, before it is told of all sets on which it is the same. */
interface Found {
  readonly at: string;
  readonly text: string;
  readonly basis: readonly Basis[];
}

const finding = (at: string, text: string, ...from: readonly Basis[]): Found => ({ at, text, basis: from });
const shown = (value: number, decimals = 1): string => formatNumber(value, decimals);

/** The factor over rated speed that class and US rules agree on. */
const COMMON_FACTOR = 1.15;

/** What each overspeed device is called in a finding. */
const SPEED_WORDS: Readonly<Record<string, string>> = {
  overspeed: "the overspeed set point",
  turbineOverspeed: "the overspeed set point",
  secondOverspeed: "the set point of the second overspeed device",
  secondTurbineOverspeed: "the set point of the second overspeed device",
};
const TURBINE_SPEEDS: readonly string[] = ["turbineOverspeed", "secondTurbineOverspeed"];

const speedFindings = (kind: string, { set, ruleBasis, number }: Looked): readonly Found[] => {
  const [rated, setPoint, most] = [number("plate/ratedSpeed"), number(`${kind}/setPoint`), number(`${kind}/makersMaximum`)];
  const at = `/sets/${set}/${kind}/setPoint`;
  if (rated === undefined) return [];
  const low =
    most !== undefined && most < rated
      ? [
          finding(
            `/sets/${set}/${kind}/makersMaximum`,
            `the highest speed that the makers are said to allow, ${shown(most)} rpm, lies under the rated speed, ${shown(rated)} rpm. One of the two is wrong.`,
            basis.arithmetic,
          ),
        ]
      : [];
  if (setPoint === undefined) return low;
  if (setPoint <= rated) {
    const text = `${SPEED_WORDS[kind]}, ${shown(setPoint)} rpm, does not lie above the rated speed, ${shown(rated)} rpm. One of the two is wrong.`;
    return [...low, finding(at, text, basis.arithmetic)];
  }
  // While the rule basis is open, what all class and US rules have in common is told.
  const own = ruleBasis?.overspeedFactor ?? null;
  const limit = overspeedLimit(rated, own ?? COMMON_FACTOR);
  if (!limit.ok) return low;
  if (own === null && ruleBasis !== null) {
    if (setPoint <= limit.value) return low;
    const text = `${SPEED_WORDS[kind]}, ${shown(setPoint)} rpm, is ${shown((100 * setPoint) / rated, 0)} % of rated speed. The rule basis sets no limit; class and US rules would set 115 %.`;
    return [...low, finding(at, text, basis.overspeedLimitUs, basis.overspeedLimitClass)];
  }
  const tolerance = number(`${kind}/tolerance`) ?? 0;
  if (setPoint <= limit.value && setPoint + tolerance > limit.value) {
    const text = `${SPEED_WORDS[kind]}, ${shown(setPoint)} rpm, lies within the highest permitted trip speed, ${shown(limit.value)} rpm, but with its tolerance of ${shown(tolerance)} rpm the trip may lie above it. To be reviewed with maker or class.`;
    return [
      ...low,
      finding(at, text, basis.overspeedLimitUs, TURBINE_SPEEDS.includes(kind) ? basis.turbineSpeed : basis.overspeedLimitClass),
    ];
  }
  if (setPoint <= limit.value) return low;
  return [
    ...low,
    finding(
      at,
      `${SPEED_WORDS[kind]}, ${shown(setPoint)} rpm (${shown((100 * setPoint) / rated, 0)} % of rated), lies above the highest permitted trip speed, ${shown(limit.value)} rpm. To be reviewed with maker or class before the visit.`,
      basis.overspeedLimitUs,
      TURBINE_SPEEDS.includes(kind) ? basis.turbineSpeed : basis.overspeedLimitClass,
    ),
  ];
};

const reverseFindings = ({ set, text, number }: Looked): readonly Found[] => {
  const [pickUp, motoring, delay] = [number("reversePower/pickUp"), number("reversePower/motoringPower"), number("reversePower/delay")];
  const mover = text("primeMover");
  if (pickUp === undefined || text("reversePower/fitted") === "none") return [];
  const at = `/sets/${set}/reversePower/pickUp`;
  const acts = motoring === undefined ? undefined : actsWhenMotored(pickUp, motoring);
  const never =
    acts?.ok === true && !acts.value
      ? [
          finding(
            at,
            `reverse power picks up at ${shown(pickUp)} % of rated power, but the set takes only ${shown(motoring ?? 0)} % when motored. As set, the relay would not act on loss of fuel. To be reviewed with maker or class; not lowered for the test.`,
            basis.motoring,
            basis.reversePowerUs,
          ),
        ]
      : [];
  const kind = mover === STEAM ? "turbine" : mover === DIESEL || mover === DUAL_FUEL ? "diesel" : null;
  // The delay is the same for all; only the pick-up hangs on what drives the set.
  const band = reversePowerBand(kind ?? "diesel", 100);
  if (!band.ok) return never;
  const { percent, seconds } = band.value;
  const place = placeOfSetting({ pickUpKw: pickUp, delaySeconds: delay ?? seconds.lower.value }, band.value);
  if (!place.ok) return never;
  const low = kind === "diesel" ? basis.reversePowerDiesel : basis.reversePowerTurbine;
  return [
    ...never,
    ...(kind === null || place.value.pickUp === "within"
      ? []
      : [
          finding(
            at,
            `reverse power picks up at ${shown(pickUp)} % of rated power, ${place.value.pickUp === "above" ? "above" : "under"} the usual band for a ${kind} of ${percent.lower.value} to ${percent.upper.value} %. 46 CFR gives no figure; class or maker decides.`,
            basis.reversePowerClass,
            low,
          ),
        ]),
    ...(place.value.delay === "within"
      ? []
      : [
          finding(
            `/sets/${set}/reversePower/delay`,
            `the reverse-power delay of ${shown(delay ?? 0)} s lies outside the usual ${seconds.lower.value} to ${seconds.upper.value} s.`,
            basis.reversePowerClass,
          ),
        ]),
  ];
};

const MOVERS = { [DIESEL]: "diesel", [DUAL_FUEL]: "diesel", [STEAM]: "steamTurbine", [SHAFT]: "powerTakeOff" } as const;
const DRIVEN = { [STEAM]: "steam", [SHAFT]: "the propulsion shaft", [OTHER_MOVER]: "something else than a diesel" } as const;

const emergencyFindings = ({ read, ruleBasis, set, role, text, number }: Looked): readonly Found[] => {
  if (role !== "emergency") return [];
  const rules = emergencyRules(ruleBasis?.id);
  const mover = text("primeMover");
  const known = mover !== undefined && Object.hasOwn(MOVERS, mover) ? MOVERS[mover as keyof typeof MOVERS] : undefined;
  const wrong =
    (known === undefined && mover !== OTHER_MOVER) || (known !== undefined && primeMoverAllowed(known))
      ? []
      : [
          finding(
            `/sets/${set}/primeMover`,
            `an emergency set must start by its own means; this one is driven by ${DRIVEN[mover as keyof typeof DRIVEN]}. 46 CFR names diesel or gas turbine only.`,
            basis.emergencyPrimeMover,
            basis.solasStarts,
          ),
        ];
  const answer = (template: string): string | number | undefined => read.answers.get(template.replace("*", String(set)));
  const first = storedStarts({ answer, visit: read.visit });
  const second = text("start/second") === "none" ? 0 : number("start/secondStarts");
  const asked: readonly EmergencyRules[] = ruleBasis === null ? ["46 CFR", "SOLAS"] : rules === null ? [] : [rules];
  const few = asked.flatMap((by): readonly Found[] => {
    if (first === null || second === undefined) return [];
    const verdict = startsSufficient({ rules: by, first: first.starts, second, manualStartEffective: false });
    if (!verdict.ok || verdict.value.sufficient) return [];
    return [
      finding(
        `/sets/${set}/start`,
        `${first.starts} starts are in the first source and ${second} in the second (${first.how}). By ${by} it wants ${verdict.value.lacking}.`,
        verdict.value.basis,
      ),
    ];
  });
  const wanted = hoursWanted(read.visit, rules);
  const [tank, perHour] = [number("start/fuelTank"), number("start/fuelPerHour")];
  const lasts = tank === undefined || perHour === undefined ? null : fuelHours(tank, 1, perHour);
  const short =
    wanted?.ok === true && lasts?.ok === true && lasts.value < wanted.value.hours
      ? [
          finding(
            `/sets/${set}/start/fuelTank`,
            `its fuel lasts ${shown(lasts.value)} h; ${wanted.value.hours} h are wanted.`,
            wanted.value.basis,
          ),
        ]
      : [];
  const stopping = ["lubeOilPressure", "jacketWaterTemperature"].flatMap((kind) =>
    text(`${kind}/fitted`) === "stop"
      ? [
          finding(
            `/sets/${set}/${kind}/fitted`,
            `this emergency set is stopped in every position by ${kind === "lubeOilPressure" ? "low oil pressure" : "high jacket-water temperature"}. By class practice only overspeed stops it in automatic${kind === "lubeOilPressure" ? "; 46 CFR (2015) asked a stop on loss of oil pressure" : ""}. To be cleared with class or authority.`,
            basis.emergencySets,
            basis.emergencyStops,
          ),
        ]
      : [],
  );
  return [...wrong, ...few, ...short, ...stopping];
};

const fittedFindings = ({ read, ruleBasis, set, role, text, number }: Looked): readonly Found[] => {
  const mover = text("primeMover");
  const diesel = mover === DIESEL || mover === DUAL_FUEL;
  const at = (path: string): string => `/sets/${set}/${path}`;
  const found: Found[] = [];
  const asked = (kind: string): Basis[] => [...(ruleBasis?.shows.find(({ protection }) => protection === kind)?.basis ?? [])];
  const missing = (kind: string, what: string): void => {
    const from = asked(kind);
    if (from.length > 0)
      found.push(finding(at(`${kind}/fitted`), `no ${what} is fitted, as we are told; the rule basis asks for one.`, ...from));
  };
  if (text("overspeed/fitted") === "none" && mover !== STEAM && mover !== SHAFT) missing("overspeed", "overspeed trip");
  // On an emergency set class practice wants an alarm; only the US text of 2015 asked a stop.
  const oilStop = role !== "emergency" || emergencyRules(ruleBasis?.id) === "46 CFR";
  if (text("lubeOilPressure/fitted") === "none" && mover !== SHAFT && oilStop) missing("lubeOilPressure", "stop on low oil pressure");
  if (text("reversePower/fitted") === "none" && text("parallel") === "yes")
    missing("reversePower", "reverse-power trip although it runs in parallel");
  if (
    text("lubeOilPressure/fitted") === "alarm only" &&
    role === "ship service" &&
    ruleBasis !== null &&
    asked("lubeOilPressure").length > 0
  ) {
    found.push(
      finding(
        at("lubeOilPressure/fitted"),
        `low oil pressure only raises an alarm; a ship-service set is to stop on it.`,
        basis.bearingOilLoss,
        basis.auxiliaryEngines,
      ),
    );
  }
  if (text("bearingOilPressure/fitted") === BEARING_ALARM && asked("bearingOilPressure").length > 0) {
    found.push(
      finding(
        at("bearingOilPressure/fitted"),
        `loss of oil pressure at the generator's bearings only raises an alarm; it is to disconnect the generator.`,
        basis.bearingOilLoss,
      ),
    );
  }
  const [power, bore] = [number("plate/ratedPower"), number("oilMist/bore")];
  const large = (power !== undefined && power >= 2250) || (bore !== undefined && bore > 300);
  if (diesel && text("oilMist/fitted") === "none" && large && read.answers.get("/plant/unattended") === "yes") {
    found.push(
      finding(
        at("oilMist/fitted"),
        `neither oil-mist nor bearing-temperature detection is fitted; from 2,250 kW or above 300 mm bore an unattended space asks for one (the rated power of the set is taken here).`,
        basis.solasOilMist,
      ),
    );
  }
  const pipes = text("fuelLeak/fitted");
  if (diesel && pipes !== undefined && pipes !== LEAK_ALARM && pipes !== "pipes inside the cover") {
    found.push(finding(at("fuelLeak/fitted"), `outside injection pipes without a leak alarm.`, basis.solasFuelPipes));
  }
  if (text("startInterlock/fitted") === "not interlocked") {
    found.push(finding(at("startInterlock/fitted"), `the turning gear does not block the start.`, basis.turningGear));
  }
  if (text("sensorFailure/fitted") === "not monitored") {
    found.push(
      finding(
        at("sensorFailure/fitted"),
        `a broken sensor wire is silent; each channel is then worth only its last test.`,
        basis.sensorFailure,
      ),
    );
  }
  if (text("supplyLoss") === "drops the governor or the bus") {
    found.push(
      finding(at("supplyLoss"), `loss of the safety panel's supply takes governor or bus with it.`, basis.sensorFailure, basis.practice),
    );
  }
  const overcurrent = number("overcurrent/pickUp");
  if (overcurrent !== undefined && overcurrent > OVERCURRENT_LIMITS.longTimePercent.value) {
    found.push(
      finding(
        at("overcurrent/pickUp"),
        `the long-time overcurrent pick-up of ${shown(overcurrent)} % lies above 115 % of rated current (an overload rating of two hours or more would count instead).`,
        basis.overcurrentLimit,
      ),
    );
  }
  return found;
};

/** An alarm is to come before its stop: at a higher oil pressure, at a lower temperature. */
const alarmFindings = ({ set, number }: Looked): readonly Found[] => {
  const late = (alarm: string, stop: string, what: string, unit: string, before: (alarm: number, stop: number) => boolean) => {
    const [alarmAt, stopAt] = [number(`${alarm}/setPoint`), number(`${stop}/setPoint`)];
    if (alarmAt === undefined || stopAt === undefined) return [];
    const sign = alarmAt > stopAt ? -1 : 1;
    const [latest, earliest] = [alarmAt + sign * (number(`${alarm}/tolerance`) ?? 0), stopAt - sign * (number(`${stop}/tolerance`) ?? 0)];
    if (before(alarmAt, stopAt) && before(latest, earliest)) return [];
    const text = before(alarmAt, stopAt)
      ? `within their tolerances the ${what} stop at ${shown(stopAt, 2)} ${unit} can come before its alarm at ${shown(alarmAt, 2)} ${unit}. To be reviewed with the maker.`
      : `the ${what} alarm at ${shown(alarmAt, 2)} ${unit} comes no earlier than the stop at ${shown(stopAt, 2)} ${unit}. To be reviewed with the maker.`;
    return [finding(`/sets/${set}/${alarm}/setPoint`, text, basis.practice)];
  };
  return [
    ...late("lubeOilAlarm", "lubeOilPressure", "low lube-oil pressure", "bar", (alarm, stop) => alarm > stop),
    ...late("jacketWaterAlarm", "jacketWaterTemperature", "high jacket-water temperature", "°C", (alarm, stop) => alarm < stop),
  ];
};

/** The second overspeed device stands above the first; at or under it, the first never acts. */
const secondFindings = ({ set, number }: Looked): readonly Found[] =>
  (
    [
      ["overspeed", "secondOverspeed"],
      ["turbineOverspeed", "secondTurbineOverspeed"],
    ] as const
  ).flatMap(([first, second]) => {
    const [firstAt, secondAt] = [number(`${first}/setPoint`), number(`${second}/setPoint`)];
    if (firstAt === undefined || secondAt === undefined || secondAt > firstAt) return [];
    const text = `the second overspeed device at ${shown(secondAt)} rpm acts no later than the first at ${shown(firstAt)} rpm: which of them trips cannot be told. To be reviewed with the maker; the one that acts first is called the first here.`;
    return [finding(`/sets/${set}/${second}/setPoint`, text, basis.practice)];
  });

/** The load on what is left, in % of its rating, above which the loss of one more set ends in a loss of power. */
const FULL_LOAD = 100;

/** Whether the ship keeps its supply should one more set be lost while this one is out of use for its tests. */
const loadFindings = ({ set, role, read }: Looked): readonly Found[] => {
  const starter = numberIn(read.answers, plantAt.largestStarter);
  const beside = loadBeside(read.answers, read.visit.sets.length, set, { motoringKw: 0, limitPercent: FULL_LOAD });
  if (role !== "ship service" || beside === undefined) return [];
  const left = loadLeft(beside);
  if (!left.ok || !left.value.largestLost.setsLeft || left.value.largestLost.withinLimit) return [];
  const text = `while this set is out of use for its tests, the loss of the largest of the others leaves ${shown(left.value.largestLost.percent)} % of its rating on the rest (ship's load${starter === undefined ? "" : " and the largest self-starting consumer"} counted). The load in port is to be lowered, or another source stood by, before the tests.`;
  return [finding(`/sets/${set}/plate/ratedPower`, text, basis.largestSetStopped, basis.practice)];
};

const PLATE = ["ratedPower", "apparentPower", "powerFactor", "voltage", "current", "frequency", "poles", "ratedSpeed"] as const;
const PLATE_WORDS = { ratedPower: "rated power", current: "rated current", ratedSpeed: "rated speed" } as const;

const plateFindings = ({ set, number, text }: Looked): readonly Found[] => {
  const known = PLATE.flatMap((entry) => {
    const value = number(`plate/${entry}`);
    // The speed of a turbine or of a shaft stands before a gear: it says nothing of the poles.
    return value === undefined || (entry === "ratedSpeed" && (text("primeMover") === STEAM || text("primeMover") === SHAFT))
      ? []
      : [[entry, value] as const];
  });
  return plateContradictions(Object.fromEntries(known) as Plate).map(({ what, given, expected, unit }) =>
    finding(
      `/sets/${set}/plate/${what}`,
      `the data plate contradicts itself: ${PLATE_WORDS[what]} is given as ${shown(given)} ${unit}, the rest of the plate gives ${shown(expected)} ${unit}. One of its figures is wrong.`,
      basis.arithmetic,
    ),
  );
};

const looks: readonly ((looked: Looked) => readonly Found[])[] = [
  (looked) => speedFindings("overspeed", looked),
  (looked) => speedFindings("turbineOverspeed", looked),
  (looked) => speedFindings("secondOverspeed", looked),
  (looked) => speedFindings("secondTurbineOverspeed", looked),
  alarmFindings,
  secondFindings,
  loadFindings,
  reverseFindings,
  emergencyFindings,
  fittedFindings,
  plateFindings,
];

/** What the inspector is told apart from the plan: settings outside their limits and arrangements that the rules do not know. */
export const findingsOf = (input: FindingInput): readonly Finding[] => {
  const together = new Map<string, { readonly names: string[]; readonly at: string[]; readonly found: Found }>();
  for (const { name, found } of foundOn(input)) {
    const entry = together.get(found.text) ?? { names: [], at: [], found };
    entry.names.push(name);
    entry.at.push(found.at);
    together.set(found.text, entry);
  }
  return [...together.values()].map(({ names, at, found: { text, basis: from } }) => ({
    at,
    text: `${listAnd(names)}: ${text}`,
    basis: from,
  }));
};

const foundOn = (input: FindingInput): readonly { readonly name: string; readonly found: Found }[] =>
  input.read.visit.sets.flatMap(({ name, role }, set) => {
    const answer = (path: string): string | number | undefined => input.read.answers.get(`/sets/${set}/${path}`);
    const looked: Looked = {
      ...input,
      set,
      role,
      text: (path) => {
        const value = answer(path);
        return typeof value === "string" ? value : undefined;
      },
      number: (path) => {
        const value = answer(path);
        return typeof value === "number" ? value : undefined;
      },
    };
    return looks.flatMap((look) => look(looked)).map((found) => ({ name, found }));
  });
