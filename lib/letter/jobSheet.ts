import { effortOf } from "../plan/effort.ts";
import { namesIn } from "../plan/readable.ts";
import type { Plan, PlanProtection, PlanRequest } from "../plan/schema.ts";
import type { Method } from "../rulebook/types.ts";
import type { Block, Letter } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { provisos } from "./conditions.ts";
import { figuresNow, namesFor, type PlanInput } from "./protections.ts";
import { confirmedWords } from "./requests.ts";
import { sheetOf } from "./sheet.ts";
import { capital, longDate, methodsOf, protectionOf, setsInWords, testsIn, windowWords } from "./words.ts";

/** One method that a technician does on one set. */
interface Job {
  readonly set: number;
  readonly protection: PlanProtection;
  readonly method: Method;
}

/** The same method of the same protection with the same figures on several sets is one row. */
const grouped = (jobs: readonly Job[], figuresOf: (job: Job) => string): readonly (readonly [Job, ...Job[]])[] => {
  const rows = new Map<string, [Job, ...Job[]]>();
  for (const job of jobs) {
    const key = `${job.protection.kind}|${job.method.id}|${figuresOf(job)}`;
    const row = rows.get(key);
    if (row === undefined) rows.set(key, [job]);
    else row.push(job);
  }
  return [...rows.values()];
};

const BROUGHT: ReadonlySet<string> = new Set(["equipment", "spare", "document"]);

const jobsOf = (request: PlanRequest, { plan, rulebook }: PlanInput): readonly Job[] =>
  plan.sets.flatMap(({ protections }, set) =>
    protections
      .filter(({ ref }) => request.neededBy.includes(ref))
      .flatMap((protection) =>
        methodsOf(rulebook, protection.kind, protection.decision.methods)
          .filter(({ needs }) => needs.includes(request.need))
          .map((method) => ({ set, protection, method })),
      ),
  );

/** The equipment, spares and papers that a method needs besides, with their references in the letter. */
const withWhat = (jobs: readonly Job[], request: PlanRequest, plan: Plan): string => {
  const refs = jobs.map(({ protection }) => protection.ref);
  const needs = jobs[0]?.method.needs ?? [];
  const own = plan.requests.filter(
    ({ need, neededBy, kind }) =>
      need !== request.need && needs.includes(need) && BROUGHT.has(kind) && neededBy.some((ref) => refs.includes(ref)),
  );
  return own.map(({ ref, text }) => `${ref} ${text}`).join("\n");
};

const minutesOf = ({ set, method }: Job, { read }: PlanInput): number =>
  effortOf(method, (template) => read.answers.get(template.replace("*", String(set)))).minutes;

/** What must be so before any of it is done; nothing where the way is certain. */
const providedThat = (jobs: readonly Job[], input: PlanInput): string => {
  const [job] = jobs;
  if (job === undefined || job.protection.decision.state !== "proposed") return "";
  const sets = jobs.map(({ set }) => set);
  return provisos(job.protection.options[0]?.when ?? true, namesFor(sets, input)) ?? "";
};

const jobTable = (jobs: readonly Job[], request: PlanRequest, input: PlanInput): Block => {
  const figuresOf = ({ protection }: Job): string => capital(figuresNow(protection, input));
  return {
    kind: "table",
    compact: true,
    columns: [
      { title: "Test", share: 10 },
      { title: "Set", share: 12 },
      { title: SAY.columns.whatIsDone, share: 44 },
      { title: SAY.columns.withWhat, share: 24 },
      { title: SAY.columns.minutes, share: 10 },
    ],
    rows: grouped(jobs, figuresOf).map((row) => {
      const [{ protection, method }] = row;
      return [
        testsIn(row.map((job) => job.protection.ref)),
        setsInWords(
          row.map(({ set }) => set),
          input.plan,
        ),
        [
          `${capital(protectionOf(input.rulebook, protection.kind)?.name ?? "")}: ${method.name}.`,
          method.does,
          ...(figuresOf(row[0]) === "" ? [] : [`Figures: ${figuresOf(row[0])}.`]),
          ...(providedThat(row, input) === "" ? [] : [`${SAY.labels.providedThat}: ${providedThat(row, input)}.`]),
          `To be seen: ${method.expected}.`,
          ...(method.restore === undefined ? [] : [`Put back: ${method.restore}.`]),
        ].join("\n"),
        withWhat(row, request, input.plan),
        [...new Set(row.map((job) => minutesOf(job, input)))].map((minutes) => SAY.with.minutes(minutes, row.length)).join(", "),
      ];
    }),
  };
};

/** Whether he is confirmed already, else by when that is wanted. */
const confirmationOf = ({ ref, confirmBy }: PlanRequest, { read }: PlanInput): string => {
  const found = read.visit.confirmed.find(({ request }) => request === ref);
  return found === undefined ? SAY.with.toConfirmBy(longDate(confirmBy)) : [SAY.columns.confirmed, confirmedWords(found)].join(" ");
};

const sheetFor = (request: PlanRequest, input: PlanInput): readonly Block[] => {
  const jobs = jobsOf(request, input);
  const { plan, rulebook } = input;
  const names = namesIn(plan, rulebook);
  const cautions = rulebook.cautions.flatMap(({ id, text }) => {
    const refs = jobs
      .filter(({ method, protection }) => method.cautions.includes(id) && protection.cautions.includes(id))
      .map(({ protection }) => protection.ref);
    return refs.length === 0 ? [] : [{ label: testsIn(refs), text }];
  });
  return [
    { kind: "heading", text: `${request.ref}  ${capital(names.specAt(request.at ?? "")?.name ?? request.text)}` },
    {
      kind: "paragraph",
      text: SAY.with.job(capital(request.text), windowWords(plan.visit.window), plan.visit.place, confirmationOf(request, input)),
    },
    jobTable(jobs, request, input),
    ...(cautions.length === 0
      ? []
      : [
          { kind: "subheading" as const, text: SAY.headings.cautions },
          { kind: "labelled" as const, items: cautions },
        ]),
  ];
};

/** What each technician does, on which set, with what and how long; null where none is planned. */
export const jobSheetOf = (input: PlanInput): Letter | null => {
  const technicians = input.plan.requests.filter(
    (request) => request.kind === "technician" && request.at !== undefined && jobsOf(request, input).length > 0,
  );
  if (technicians.length === 0) return null;
  return sheetOf(
    input,
    SAY.headings.jobSheet,
    technicians.flatMap((request) => sheetFor(request, input)),
  );
};
