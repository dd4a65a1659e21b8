import type { Plan, PlanRequest } from "../plan/schema.ts";
import type { Block } from "./blocks.ts";
import { capital, longDate, refRange } from "./words.ts";

const ACTORS = ["master", "chief engineer", "electrician", "superintendent"] as const;
const MOST_LINES = 7;

interface Line {
  readonly who: string;
  readonly what: string;
  readonly by: string;
}

const earliest = (requests: readonly PlanRequest[]): string => requests.map(({ confirmBy }) => confirmBy).sort()[0] ?? "";

const technicianLine = (request: PlanRequest): Line => {
  const wait =
    request.notBefore === undefined
      ? ""
      : ` Do not order before ${refRange(request.notBefore)} ${request.notBefore.length === 1 ? "is" : "are"} answered.`;
  const hold = request.hold === true ? "reserve, cancel later if not needed:" : "say whether he can come:";
  return {
    who: capital(request.actor),
    what: `${request.ref}, service engineer or the ship's own tool and trained person: ${hold} lead time runs.${wait}`,
    by: longDate(request.confirmBy),
  };
};

const linesFor = (plan: Plan): readonly Line[] => {
  const technicians = plan.requests.filter((request) => request.kind === "technician" && request.at !== undefined);
  const rest = plan.requests.filter((request) => !technicians.includes(request));
  const questions = plan.questions.filter(({ decides }) => decides.length > 0).map(({ ref }) => ref);
  const details = plan.questions.filter(({ decides }) => decides.length === 0).map(({ ref }) => ref);
  const answered = [
    ...(questions.length === 0 ? [] : [`answer ${refRange(questions)}`]),
    ...(details.length === 0 ? [] : [`give the figures ${refRange(details)}`]),
  ];
  return ACTORS.flatMap((actor): readonly Line[] => {
    const own = rest.filter((request) => request.actor === actor);
    const mine = actor === "chief engineer" ? answered : [];
    const groups = new Map<string, PlanRequest[]>();
    for (const request of own) groups.set(request.confirmBy, [...(groups.get(request.confirmBy) ?? []), request]);
    const replyBy = plan.visit.replyBy;
    const atReply = groups.get(replyBy) ?? [];
    groups.delete(replyBy);
    const doing = [...mine, ...(atReply.length === 0 ? [] : [`confirm ${refRange(atReply.map(({ ref }) => ref))}`])];
    const later = [...groups.values()].flat();
    return [
      ...technicians.filter((request) => request.actor === actor).map(technicianLine),
      ...(doing.length === 0 ? [] : [{ who: capital(actor), what: `${capital(doing.join("; "))}.`, by: longDate(replyBy) }]),
      ...(later.length === 0
        ? []
        : [{ who: capital(actor), what: `Arrange ${refRange(later.map(({ ref }) => ref))}.`, by: longDate(earliest(later)) }]),
    ];
  });
};

/** What is asked, and by when, in at most seven lines, sorted by who acts. */
export const asksBlock = (plan: Plan): Block => {
  const lines = linesFor(plan);
  if (lines.length <= MOST_LINES) return { kind: "asks", lines };
  const rest = lines.slice(MOST_LINES - 1);
  return {
    kind: "asks",
    lines: [
      ...lines.slice(0, MOST_LINES - 1),
      { who: "All", what: rest.map(({ who, what }) => `${who}: ${what}`).join(" "), by: rest[0]?.by ?? "" },
    ],
  };
};
