import { approvedStepAt } from "../decide/compile.ts";
import type { DecidedVisit } from "../decide/visit.ts";
import { overspeedLimit } from "../figures/overspeed.ts";
import { type Plate, plateContradictions } from "../figures/plate.ts";
import { OPEN } from "../logic/kleene.ts";
import { usBasisShutOut } from "../model/contradictions.ts";
import { RULE_BASIS } from "../model/facts/visit.ts";
import { dotted } from "../model/fault.ts";
import type { ReadVisit } from "../model/read.ts";
import { basis } from "../rulebook/basis.ts";
import type { RuleBasis, Rulebook } from "../rulebook/types.ts";
import { formatNumber } from "../units/units.ts";
import type { PlacedFact } from "./answers.ts";
import { ignoredAnswers } from "./answers.ts";
import type { Plan } from "./schema.ts";

type Warning = Plan["warnings"][number];

export interface WarningInput {
  readonly read: ReadVisit;
  readonly rulebook: Rulebook;
  readonly decided: DecidedVisit;
  readonly placed: readonly PlacedFact[];
  readonly ruleBasis: RuleBasis | null;
  readonly refOf: (channel: string) => string;
}

const plateOf = ({ answers }: ReadVisit, set: number): Plate => {
  const at = (name: keyof Plate) => answers.get(`/sets/${set}/plate/${name}`);
  const names: readonly (keyof Plate)[] = [
    "ratedPower",
    "apparentPower",
    "powerFactor",
    "voltage",
    "current",
    "frequency",
    "poles",
    "ratedSpeed",
  ];
  return Object.fromEntries(names.flatMap((name) => (typeof at(name) === "number" ? [[name, at(name)]] : []))) as Plate;
};

const PLATE_WORDS = { ratedPower: "rated power", current: "rated current", ratedSpeed: "rated speed" } as const;

const plateWarnings = ({ read }: WarningInput): readonly Warning[] =>
  read.visit.sets.flatMap((set, place) =>
    plateContradictions(plateOf(read, place)).map(({ what, given, expected, unit }) => ({
      at: `/sets/${place}/plate/${what}`,
      text: `Data plate of ${set.name} contradicts itself: ${PLATE_WORDS[what]} is given as ${formatNumber(given, 1)} ${unit}, the rest of the plate gives ${formatNumber(expected, 1)} ${unit}.`,
      basis: [basis.arithmetic],
    })),
  );

const overspeedWarnings = ({ read, ruleBasis }: WarningInput): readonly Warning[] =>
  read.visit.sets.flatMap((set, place): readonly Warning[] => {
    const [rated, setPoint] = [read.answers.get(`/sets/${place}/plate/ratedSpeed`), read.answers.get(`/sets/${place}/overspeed/setPoint`)];
    if (typeof rated !== "number" || typeof setPoint !== "number") return [];
    const at = `/sets/${place}/overspeed/setPoint`;
    if (setPoint <= rated) {
      return [
        {
          at,
          text: `Overspeed set point of ${set.name}, ${formatNumber(setPoint, 1)} rpm, does not lie above its rated speed, ${formatNumber(rated, 1)} rpm: one of the two is wrong.`,
          basis: [basis.arithmetic],
        },
      ];
    }
    const limit = ruleBasis?.overspeedFactor == null ? undefined : overspeedLimit(rated, ruleBasis.overspeedFactor);
    if (limit?.ok !== true || setPoint <= limit.value) return [];
    return [
      {
        at,
        text: `Finding: overspeed set point of ${set.name}, ${formatNumber(setPoint, 1)} rpm, lies above the highest permitted trip speed, ${formatNumber(limit.value, 1)} rpm. To be reviewed with maker or class before the visit.`,
        basis: [basis.overspeedLimitUs, basis.overspeedLimitClass],
      },
    ];
  });

const notFitted = ({ read, ruleBasis }: WarningInput): readonly Warning[] =>
  read.visit.sets.flatMap((set, place) =>
    read.answers.get(`/sets/${place}/overspeed/fitted`) === "none" && ruleBasis?.overspeedFactor != null
      ? [
          {
            at: `/sets/${place}/overspeed/fitted`,
            text: `Finding: ${set.name} is said to have no overspeed trip; the rule basis asks for one.`,
            basis: [basis.overspeedLimitUs, basis.overspeedLimitClass],
          },
        ]
      : [],
  );

const emergencyWarnings = ({ read }: WarningInput): readonly Warning[] =>
  read.visit.sets.flatMap((set, place) =>
    set.role === "emergency"
      ? [
          {
            at: `/sets/${place}/role`,
            text: `${set.name} is an emergency set: by class practice only overspeed stops it in automatic, and oil pressure and water temperature give an alarm. What must be seen depends on role and selector position; see which stops are live in which.`,
            basis: [{ cite: "IACS UR M63", mark: "memory" as const }],
          },
        ]
      : [],
  );

const basisWarnings = ({ read, ruleBasis }: WarningInput): readonly Warning[] => {
  const shut = usBasisShutOut(read.visit);
  if (ruleBasis !== null || shut === null) return [];
  return [
    {
      at: RULE_BASIS,
      text: `Under US rules ${shut.basis} cannot bind: ${shut.why}. The rule basis is still to be confirmed.`,
      basis: [basis.offshoreApplies, basis.offshoreSize],
    },
  ];
};

const hazardWarnings = ({ decided, rulebook, refOf }: WarningInput): readonly Warning[] =>
  decided.protections.flatMap(({ at, kind, remaining }) => {
    const methods = rulebook.protections.find((protection) => protection.kind === kind)?.methods ?? [];
    const risky = methods.filter((method) => remaining[0]?.methods.includes(method.id) && method.hazard === 2);
    return risky.map((method) => ({
      at,
      text: `${refOf(at)} as planned (${method.name}) is of hazard class 2, ${rulebook.hazards[2]}: it needs the inspector's consent before the letter goes.`,
      officeOnly: true as const,
      basis: [basis.practice],
    }));
  });

const emptyWarnings = ({ decided, refOf }: WarningInput): readonly Warning[] =>
  decided.protections.flatMap(({ at, remaining }) =>
    remaining[0]?.outcome === "nothing left"
      ? [
          {
            at,
            text: `${refOf(at)}: no acceptable way to prove this protection is left. Choices: arrange one of the facts that would open a way; ask the authority for written acceptance of a technique; test on another occasion and record it as not proven; agree on another way with maker and class.`,
            basis: [basis.practice],
          },
        ]
      : [],
  );

const approvedWarnings = ({ decided, read, refOf }: WarningInput): readonly Warning[] =>
  decided.protections.flatMap(({ at, kind, set }) =>
    read.answers.get(approvedStepAt(kind).replace("*", String(set))) === "another step"
      ? [
          {
            at,
            text: `${refOf(at)}: the procedure approved for this vessel has a step that is not in the rulebook. That step is the plan; departing from it goes to the authority.`,
            basis: [basis.practice],
          },
        ]
      : [],
  );

const ignored = ({ placed }: WarningInput): readonly Warning[] =>
  ignoredAnswers(placed).map(({ at }) => ({
    at,
    text: `The answer at ${dotted(at)} is set aside: by the answer it belongs under, it does not apply.`,
    officeOnly: true as const,
    basis: [basis.arithmetic],
  }));

const deviationWarnings = ({ decided, refOf }: WarningInput): readonly Warning[] =>
  decided.protections.flatMap(({ at, insistence }) =>
    insistence === null
      ? []
      : [
          {
            at,
            text: insistence.refused
              ? `${refOf(at)}: the deviation to ${insistence.method} is refused (${insistence.why}) and changes nothing.`
              : `${refOf(at)}: decided by the inspector's deviation to ${insistence.method}; the supervisor sees it.`,
            officeOnly: true as const,
            basis: [basis.office],
          },
        ],
  );

const stays = ({ decided, refOf }: WarningInput): readonly Warning[] => {
  const open = decided.protections.filter(({ applies }) => applies === OPEN).map(({ at }) => refOf(at));
  return open.length === 0
    ? []
    : [{ text: `Whether ${open.join(", ")} apply at all is not known yet.`, officeOnly: true, basis: [basis.practice] }];
};

/** What the inspector must be told beside the plan: findings, refusals, consents and doubts, each with its basis. */
export const warningsOf = (input: WarningInput): readonly Warning[] => [
  ...basisWarnings(input),
  ...emptyWarnings(input),
  ...deviationWarnings(input),
  ...overspeedWarnings(input),
  ...notFitted(input),
  ...plateWarnings(input),
  ...hazardWarnings(input),
  ...approvedWarnings(input),
  ...emergencyWarnings(input),
  ...stays(input),
  ...ignored(input),
];
