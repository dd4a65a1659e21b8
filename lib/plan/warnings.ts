import { approvedStepAt } from "../decide/compile.ts";
import type { DecidedVisit } from "../decide/visit.ts";
import { workingDaysBetween } from "../figures/workingDays.ts";
import { OPEN } from "../logic/kleene.ts";
import { usBasisShutOut } from "../model/contradictions.ts";
import { OVERSPEED } from "../model/facts/overspeed.ts";
import { TURBINE_OVERSPEED } from "../model/facts/turbine.ts";
import { LOCAL_RULES, RULE_BASIS } from "../model/facts/visit.ts";
import { dotted } from "../model/fault.ts";
import type { ReadVisit } from "../model/read.ts";
import { basis } from "../rulebook/basis.ts";
import type { RuleBasis, Rulebook } from "../rulebook/types.ts";
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
  /** What the planned tests of all sets take. */
  readonly minutes: number;
}

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
  decided.protections.flatMap(({ at, kind, set, prepared, verdicts }): readonly Warning[] => {
    const step = read.answers.get(approvedStepAt(kind).replace("*", String(set)));
    if (step === "another step") {
      return [
        {
          at,
          text: `${refOf(at)}: the procedure approved for this vessel has a step that is not in the rulebook. That step is the plan; departing from it goes to the authority.`,
          basis: [basis.practice],
        },
      ];
    }
    const place = prepared.compiled.methods.findIndex(({ method }) => method.id === step);
    const [entry, verdict] = [prepared.compiled.methods[place], verdicts[place]];
    if (entry === undefined || verdict?.verdict !== "barred") return [];
    return [
      {
        at,
        text: `${refOf(at)}: the step of the approved procedure (${entry.method.name}) cannot be done as things stand: ${verdict.clause.otherwise}. What is planned instead departs from the procedure and goes to the authority first.`,
        basis: [basis.practice],
      },
    ];
  });

const ignored = ({ placed, read }: WarningInput): readonly Warning[] =>
  ignoredAnswers(placed).map(({ at, spec, set }) => ({
    at,
    text: `${read.visit.sets[set ?? -1]?.name ?? "The whole visit"}: the answer “${spec.name}” is set aside: by the answer it belongs under, it does not apply.`,
    officeOnly: true as const,
    basis: [basis.arithmetic],
  }));

const deviationWarnings = ({ decided, refOf }: WarningInput): readonly Warning[] =>
  decided.protections.flatMap(({ at, insistence, prepared }) => {
    if (insistence === null) return [];
    const entry = prepared.compiled.methods.find(({ method }) => method.id === insistence.method);
    const name = entry === undefined ? insistence.method : `“${entry.method.name}”`;
    return [
      {
        at,
        text: insistence.refused
          ? `${refOf(at)}: the deviation to ${name} is refused (${insistence.why}) and changes nothing.`
          : `${refOf(at)}: decided by the inspector's deviation to ${name}; the supervisor sees it.`,
        officeOnly: true as const,
        basis: [basis.office],
      },
    ];
  });

const stays = ({ decided, refOf }: WarningInput): readonly Warning[] => {
  const open = decided.protections.filter(({ applies }) => applies === OPEN).map(({ at }) => refOf(at));
  return open.length === 0
    ? []
    : [{ text: `Whether ${open.join(", ")} apply at all is not known yet.`, officeOnly: true, basis: [basis.practice] }];
};

const localRuleWarnings = ({ read, ruleBasis }: WarningInput): readonly Warning[] =>
  ruleBasis?.id === LOCAL_RULES && read.visit.policy.localRules === undefined
    ? [
        {
          at: "/policy/localRules",
          text: "The rule basis is local rules, but the policy words none: every technique is taken to be accepted.",
          officeOnly: true as const,
          basis: [basis.localRules],
        },
      ]
    : [];

/** Answers that were worked out and not given, and given ones that what they follow from contradicts. */
const derivedWarnings = ({ read, placed }: WarningInput): readonly Warning[] =>
  read.derived.flatMap(({ at, value, from }) => {
    const counted = read.answers.get(at);
    const given = read.given.has(at);
    if (given && counted === value) return [];
    const set = read.visit.sets[Number(/^\/sets\/(\d+)\//.exec(at)?.[1])]?.name;
    const name = placed.find((fact) => fact.at === at)?.spec.name ?? dotted(at);
    const what = set === undefined ? name : `${set}, ${name}:`;
    return [
      {
        at,
        text: given
          ? `${what} given as ${counted}, but ${from} say ${value}. What is given counts until it is cleared.`
          : `${what} taken as ${value}, since it follows from ${from}.`,
        officeOnly: true as const,
        basis: [basis.arithmetic],
      },
    ];
  });

/** A leak or defect is open: the hold point of the walk-round. */
const defectWarnings = ({ read }: WarningInput): readonly Warning[] =>
  read.visit.sets.flatMap(({ name }, set): readonly Warning[] =>
    read.answers.get(`/sets/${set}/openDefects`) === "some"
      ? [
          {
            at: `/sets/${set}/openDefects`,
            text: `${name} has a leak, defect or repair open. While there is a wet fuel or oil leak, or anything that makes running unsafe, none of its running tests is done: hold point at the walk-round, tests at standstill only. Please say what it is and when it will be put right.`,
            basis: [basis.practice],
          },
        ]
      : [],
  );

/** Of these the sensing is what makes the test; a settled way without it is told, not only shown in its strip. */
const SENSING_COUNTS: ReadonlySet<string> = new Set([OVERSPEED, TURBINE_OVERSPEED]);

const unsensed = ({ decided, refOf }: WarningInput): readonly Warning[] =>
  decided.protections.flatMap(({ at, kind, remaining }) => {
    const [only] = remaining;
    return SENSING_COUNTS.has(kind) && remaining.length === 1 && only?.outcome === "combination" && only.unproven.includes("sensing")
      ? [
          {
            at,
            text: `${refOf(at)}: no way is left that proves what senses the overspeed. The trip speed of this set will count as not proven, and when and how it is proven is to be agreed.`,
            basis: [basis.practice],
          },
        ]
      : [];
  });

const HOURS_A_DAY = 8;
const EVERY_DAY = { workingDays: [0, 1, 2, 3, 4, 5, 6], holidays: [] } as const;

/** Hours that the planned tests want one after the other, restarts not counted, and the working hours of the window, eight a day. */
export const hoursOf = ({ from, to }: Plan["visit"]["window"], minutes: number): { readonly wanted: number; readonly has: number } => {
  const after = workingDaysBetween(from, to, EVERY_DAY);
  return { wanted: Math.ceil(minutes / 30) / 2, has: (1 + (after.ok ? after.value : 0)) * HOURS_A_DAY };
};

/** More hours of tests than the window has; restarts, warming up and waiting come on top. */
const hoursWarnings = ({ read, minutes }: WarningInput): readonly Warning[] => {
  const { wanted, has } = hoursOf(read.visit.visit.window, minutes);
  return wanted > has
    ? [
        {
          text: `The planned tests take about ${wanted} h one after the other, restarts not counted; the window has ${has} working hours. Not all of it will fit: what waits for another day is agreed beforehand.`,
          tooLong: true as const,
          basis: [basis.practice],
        },
      ]
    : [];
};

/** What the inspector must be told beside plan and findings: refusals, consents and doubts, each with its basis. */
export const warningsOf = (input: WarningInput): readonly Warning[] => [
  ...basisWarnings(input),
  ...defectWarnings(input),
  ...unsensed(input),
  ...hoursWarnings(input),
  ...emptyWarnings(input),
  ...deviationWarnings(input),
  ...hazardWarnings(input),
  ...approvedWarnings(input),
  ...stays(input),
  ...localRuleWarnings(input),
  ...derivedWarnings(input),
  ...ignored(input),
];
