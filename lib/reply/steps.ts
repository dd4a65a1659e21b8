import type { Asked } from "../plan/asked.ts";

/** One page of a reply as it is filled in. */
export interface ReplyStep {
  readonly id: string;
  readonly kind: "start" | "questions" | "requests" | "tests" | "files" | "check";
  readonly title: string;
  /** What is asked on it, in the order of the letter; empty on pages that belong to the whole reply. */
  readonly refs: readonly string[];
}

/** So many of a kind stand on one page: few enough for a telephone and a slow link, many enough for few pages. */
const ON_A_PAGE = { questions: 10, requests: 8, tests: 14 } as const;

const TITLES = { questions: "Questions", requests: "What we ask you to arrange", tests: "Tests as planned" } as const;

/** Pages as even as they can be, none over the limit. */
const pagesOf = (kind: keyof typeof ON_A_PAGE, items: readonly { readonly ref: string }[]): readonly ReplyStep[] => {
  const count = Math.ceil(items.length / ON_A_PAGE[kind]);
  const title = TITLES[kind];
  return Array.from({ length: count }, (_, place) => ({
    id: `${kind}-${place + 1}`,
    kind,
    title: count === 1 ? title : `${title}, page ${place + 1} of ${count}`,
    refs: items.slice(Math.ceil((place * items.length) / count), Math.ceil(((place + 1) * items.length) / count)).map(({ ref }) => ref),
  }));
};

const whole = (id: ReplyStep["kind"], title: string): ReplyStep => ({ id, kind: id, title, refs: [] });

/** The pages of the reply to a letter, in the order of the letter: who answers, each kind that is asked, files and remarks, the whole to be confirmed. Pure. */
export const replySteps = ({ questions, requests, tests }: Asked): readonly ReplyStep[] => [
  whole("start", "What we ask, and who answers"),
  ...pagesOf("questions", questions),
  ...pagesOf("requests", requests),
  ...pagesOf("tests", tests),
  whole("files", "Files"),
  whole("check", "Check and send"),
];

/** What a letter asks on these places only. Pure. */
export const askedAt = ({ questions, requests, tests }: Asked, refs: readonly string[]): Asked => {
  const here = <Item extends { readonly ref: string }>(items: readonly Item[]): readonly Item[] =>
    items.filter(({ ref }) => refs.includes(ref));
  return { questions: here(questions), requests: here(requests), tests: here(tests) };
};
