import { readDay } from "../../lib/figures/readDay.ts";
import { type FindingFilter, NO_FILTER } from "../../lib/usecases/review/findings.ts";

const LONGEST = 120;

export interface FindingQuery {
  readonly filter: FindingFilter;
  /** As it was typed, for the form. */
  readonly typed: Readonly<Record<string, string>>;
  readonly faults: readonly { readonly id: string; readonly says: string }[];
}

/** What a query asks of findings; a day that cannot be read is told and left out. */
export const findingQuery = (query: Readonly<Record<string, string | undefined>>): FindingQuery => {
  const text = (name: string): string => (query[name] ?? "").slice(0, LONGEST).trim();
  const faults: { readonly id: string; readonly says: string }[] = [];
  const day = (name: "from" | "to", label: string): string => {
    const given = text(name);
    if (given === "") return "";
    const read = readDay(given);
    if (read.ok) return read.value;
    faults.push({ id: name, says: `${label}: given “${given}”; wanted ${read.faults.join("; ")}` });
    return "";
  };
  const own = ["vessel", "maker", "method", "inspector", "ruleBasis"] as const;
  const named = Object.fromEntries(own.map((name) => [name, text(name)]));
  const filter: FindingFilter = {
    ...NO_FILTER,
    ...named,
    from: day("from", "From"),
    to: day("to", "To"),
    settled: query["settled"] === "yes",
  };
  if (filter.from !== "" && filter.to !== "" && filter.to < filter.from)
    faults.push({ id: "to", says: `To: given ${filter.to}; wanted ${filter.from}, the first day, or a later one` });
  const typed = Object.fromEntries([...own, "from" as const, "to" as const].map((name) => [name, text(name)]));
  return { filter, typed: { ...typed, settled: filter.settled ? "yes" : "" }, faults };
};
