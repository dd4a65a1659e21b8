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

const technicianLine = (request: PlanRequest, plan: Plan): Line => {
  const wait =
    request.notBefore === undefined
      ? ""
      : ` Do not order before ${refRange(request.notBefore)} ${request.notBefore.length === 1 ? "is" : "are"} answered.`;
  const open = plan.open.some(({ at }) => at === request.at);
  const hold =
    request.hold === true
      ? "reserve now, cancel later if not needed"
      : open
        ? "say whether he can come; the lead time runs"
        : "order and confirm the day";
  return {
    who: capital(request.actor),
    what: `${request.ref}, service engineer or the ship's own tool and trained person: ${hold}.${wait}`,
    by: longDate(request.confirmBy),
  };
};

const refs = (requests: readonly { readonly ref: string }[]): string => refRange(requests.map(({ ref }) => ref));

/** What one reader has to answer, confirm and arrange. */
const linesOf = (actor: string, plan: Plan, requests: readonly PlanRequest[]): readonly Line[] => {
  const own = requests.filter((request) => request.actor === actor);
  const deciding = plan.questions.filter(({ decides }) => decides.length > 0);
  const details = plan.questions.filter(({ decides }) => decides.length === 0);
  const atReply = own.filter(({ confirmBy }) => confirmBy === plan.visit.replyBy);
  const later = own.filter(({ confirmBy }) => confirmBy !== plan.visit.replyBy);
  const doing = [
    ...(actor === "chief engineer" && deciding.length > 0 ? [`answer ${refs(deciding)}`] : []),
    ...(actor === "chief engineer" && details.length > 0 ? [`give the figures ${refs(details)}`] : []),
    ...(atReply.length === 0 ? [] : [`confirm ${refs(atReply)}`]),
  ];
  return [
    ...(doing.length === 0 ? [] : [{ who: capital(actor), what: `${capital(doing.join("; "))}.`, by: longDate(plan.visit.replyBy) }]),
    ...(later.length === 0 ? [] : [{ who: capital(actor), what: `Arrange ${refs(later)}.`, by: longDate(earliest(later)) }]),
  ];
};

/** Things for later ways are not to be ordered yet: only whether they could be had is asked. */
const perhapsLine = (requests: readonly PlanRequest[]): readonly Line[] =>
  requests.length === 0
    ? []
    : [
        {
          who: "All",
          what: `Say whether ${refs(requests)} could be had. They are for later ways: do not order yet.`,
          by: longDate(earliest(requests)),
        },
      ];

const linesFor = (plan: Plan): readonly Line[] => {
  const technicians = plan.requests.filter((request) => request.kind === "technician" && request.at !== undefined);
  const perhaps = plan.requests.filter((request) => !technicians.includes(request) && request.neededBy.length === 0);
  const rest = plan.requests.filter((request) => !technicians.includes(request) && !perhaps.includes(request));
  return [
    ...ACTORS.flatMap((actor) => [
      ...technicians.filter((request) => request.actor === actor).map((request) => technicianLine(request, plan)),
      ...linesOf(actor, plan, rest),
    ]),
    ...perhapsLine(perhaps),
  ];
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
