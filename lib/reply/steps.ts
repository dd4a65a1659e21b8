import { knownLines } from "../letter/alike.ts";
import type { Asked } from "../plan/asked.ts";

/** One page of a reply as it is filled in. */
export interface ReplyStep {
  readonly id: string;
  readonly kind: "start" | "questions" | "requests" | "tests" | "known" | "files" | "check";
  readonly title: string;
  /** What bears a reference on it, in the order of the letter; empty on pages that belong to the whole reply. */
  readonly refs: readonly string[];
}

/** So many of a kind stand on one page: few enough for a telephone and a slow link, many enough for few pages. */
const ON_A_PAGE = { questions: 10, requests: 8, tests: 14, known: 30 } as const;

const TITLES = {
  questions: "Questions",
  requests: "What we ask you to arrange",
  tests: "Tests as planned",
  known: "What we have assumed",
} as const;

/** Pages as even as they can be, none over the limit; what stands together in one line is not parted. */
const pagesOf = (kind: keyof typeof ON_A_PAGE, items: readonly (readonly { readonly ref: string }[])[]): readonly ReplyStep[] => {
  const count = Math.ceil(items.length / ON_A_PAGE[kind]);
  const title = TITLES[kind];
  return Array.from({ length: count }, (_, place) => ({
    id: `${kind}-${place + 1}`,
    kind,
    title: count === 1 ? title : `${title}, page ${place + 1} of ${count}`,
    refs: items
      .slice(Math.ceil((place * items.length) / count), Math.ceil(((place + 1) * items.length) / count))
      .flatMap((own) => own.map(({ ref }) => ref)),
  }));
};

const alone = <Item>(items: readonly Item[]): readonly (readonly Item[])[] => items.map((item) => [item]);

const whole = (id: ReplyStep["kind"], title: string): ReplyStep => ({ id, kind: id, title, refs: [] });

/** The pages of the reply to a letter, in the order of the letter: who answers, each kind that is asked, what was taken as known, files and remarks, the whole to be confirmed. Pure. */
export const replySteps = ({ questions, requests, tests, known }: Asked): readonly ReplyStep[] => [
  whole("start", "What we ask, and who answers"),
  ...pagesOf("questions", alone(questions)),
  ...pagesOf("requests", alone(requests)),
  ...pagesOf("tests", alone(tests)),
  ...pagesOf(
    "known",
    knownLines(known).map(({ facts }) => facts),
  ),
  whole("files", "Files"),
  whole("check", "Check and send"),
];

/** What a letter asks on these places only. Pure. */
export const askedAt = ({ questions, requests, tests, known }: Asked, refs: readonly string[]): Asked => {
  const here = <Item extends { readonly ref: string }>(items: readonly Item[]): readonly Item[] =>
    items.filter(({ ref }) => refs.includes(ref));
  return { questions: here(questions), requests: here(requests), tests: here(tests), known: here(known) };
};
