import type { VisitBar } from "../../components/frame/Page.tsx";
import { stepsOf } from "../../lib/flow/steps.ts";
import { longDate } from "../../lib/letter/words.ts";
import { valueAt } from "../../lib/model/fault.ts";
import type { StoredVisit, VisitLine } from "../../lib/store/store.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { typedPages } from "../../lib/usecases/visits/typed.ts";
import { openVisit } from "../../lib/usecases/visits/visitDraft.ts";

/** "26 November 2026, 08:15 UTC". */
export const instant = (when: string): string => `${longDate(when.slice(0, 10))}, ${when.slice(11, 16)} UTC`;

/** What people of the office are called, by their ids. */
export const namesIn = async ({ accounts }: Office): Promise<(id: string) => string> => {
  const people = new Map((await accounts.people()).map(({ id, name }) => [id, name]));
  return (id) => people.get(id) ?? "somebody";
};

/** The text at a pointer; empty where there is none. */
export const textAt = (document: unknown, at: string): string => {
  const value = valueAt(document, at);
  return typeof value === "string" ? value : "";
};

/** Where and when a visit is, as far as that is told. */
export const aboutVisit = ({ frame }: Pick<StoredVisit | VisitLine, "frame">): string => {
  const [place, from, to] = ["/visit/place/name", "/visit/window/from", "/visit/window/to"].map((at) => textAt(frame, at));
  const days =
    from === undefined || from === ""
      ? ""
      : from === to || to === undefined || to === ""
        ? longDate(from)
        : `${longDate(from)} to ${longDate(to)}`;
  return [place, days].filter((part) => part !== undefined && part !== "").join(", ");
};

/** The bar of a visit on one of its pages. */
export const barOf = (stored: StoredVisit, here: VisitBar["here"]): VisitBar => ({
  id: stored.id,
  vessel: textAt(stored.frame, "/visit/vessel/name"),
  about: aboutVisit(stored),
  here,
});

/** Pages on which something stands typed that is no answer yet, by what they are called. */
export const typedTitles = async (
  { store, planner }: Office,
  stored: StoredVisit,
  who: string,
): Promise<readonly { readonly path: string; readonly title: string; readonly count: number }[]> => {
  const pages = await typedPages(store, stored, who);
  if (pages.size === 0) return [];
  const { draft } = openVisit(stored);
  return stepsOf(draft, planner.rulebook).flatMap(({ path, title, set }) => {
    const count = pages.get(path);
    const whose = set === null ? "" : `${textAt(draft.frame, `/sets/${set}/name`)}: `;
    return count === undefined ? [] : [{ path, title: `${whose}${title}`, count }];
  });
};
