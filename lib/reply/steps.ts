import { knownLines } from "../letter/alike.ts";
import type { Asked } from "../plan/asked.ts";
import { sisterQuestions } from "./sisters.ts";

/** One page of a reply as it is filled in. */
export interface ReplyStep {
  readonly id: string;
  readonly kind: "start" | "questions" | "requests" | "tests" | "known" | "files" | "check";
  readonly title: string;
  /** What bears a reference on it, in the order of the letter, sister questions together; empty on pages that belong to the whole reply. */
  readonly refs: readonly string[];
}

/** So many of a kind stand on one page: few enough for a telephone and a slow link, many enough for few pages. */
const ON_A_PAGE = { questions: 10, requests: 8, tests: 14, known: 45 } as const;

const TITLES = {
  questions: "Questions",
  requests: "What we ask you to arrange",
  tests: "Tests as planned",
  known: "What we have assumed",
} as const;

/** What stands together on a page. */
type Bundle = readonly { readonly ref: string }[];

/** A sister of the question above it is one row of choices, half of what a question takes. */
const SISTER = 0.5;

const roomOf = (bundle: Bundle): number => 1 + (bundle.length - 1) * SISTER;

/** Of very many sisters so many stand together. */
const MOST_SISTERS = 12;

const inParts = (bundle: Bundle): readonly Bundle[] =>
  Array.from({ length: Math.ceil(bundle.length / MOST_SISTERS) }, (_, part) =>
    bundle.slice(part * MOST_SISTERS, (part + 1) * MOST_SISTERS),
  );

/** Bundles page by page: as even as they can be with none torn apart, no page over the limit. */
const dividedOf = (bundles: readonly Bundle[], limit: number): readonly Bundle[] => {
  const room = bundles.reduce((sum, bundle) => sum + roomOf(bundle), 0);
  const count = Math.ceil(room / limit);
  const pages: { readonly refs: Bundle[number][]; room: number }[] = [];
  let before = 0;
  for (const bundle of bundles) {
    const last = pages.at(-1);
    if (last === undefined || before * count >= room * pages.length || last.room + roomOf(bundle) > limit)
      pages.push({ refs: [...bundle], room: roomOf(bundle) });
    else {
      last.refs.push(...bundle);
      last.room += roomOf(bundle);
    }
    before += roomOf(bundle);
  }
  return pages.map(({ refs }) => refs);
};

const pagesOf = (kind: keyof typeof ON_A_PAGE, bundles: readonly Bundle[]): readonly ReplyStep[] => {
  const pages = dividedOf(bundles.flatMap(inParts), ON_A_PAGE[kind]);
  const title = TITLES[kind];
  return pages.map((items, place) => ({
    id: `${kind}-${place + 1}`,
    kind,
    title: pages.length === 1 ? title : `${title}, page ${place + 1} of ${pages.length}`,
    refs: items.map(({ ref }) => ref),
  }));
};

const oneByOne = (items: Bundle): readonly Bundle[] => items.map((item) => [item]);

const whole = (id: ReplyStep["kind"], title: string): ReplyStep => ({ id, kind: id, title, refs: [] });

/** The pages of the reply to a letter, in the order of the letter: who answers, each kind that is asked, what was taken as known, files and remarks, the whole to be confirmed. Pure. */
export const replySteps = ({ questions, requests, tests, known }: Asked): readonly ReplyStep[] => [
  whole("start", "What we ask, and who answers"),
  ...pagesOf("questions", sisterQuestions(questions)),
  ...pagesOf("requests", oneByOne(requests)),
  ...pagesOf("tests", oneByOne(tests)),
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
