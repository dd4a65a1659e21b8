import { stepsOf } from "../../../lib/flow/steps.ts";
import type { Office } from "../../../lib/usecases/office.ts";
import { storedPointer } from "../../../lib/usecases/visits/places.ts";
import { openVisit } from "../../../lib/usecases/visits/visitDraft.ts";

/** A number that a page of questions asks for. */
export interface NumberField {
  readonly at: string;
  /** The same with the id of the set, as it is kept. */
  readonly kept: string;
  readonly from: number;
  readonly to: number;
}

/** A page of questions on which only numbers are filled in: each try another number, so that it is known again. */
export interface Page {
  readonly visit: string;
  readonly path: string;
  readonly sets: string;
  readonly fields: readonly NumberField[];
}

/** The pages of a visit that ask for several numbers with units. */
export const numberPages = async ({ store, planner }: Office, visit: string): Promise<readonly Page[]> => {
  const stored = await store.visit(visit);
  if (stored === null) throw new Error("no visit");
  return stepsOf(openVisit(stored).draft, planner.rulebook).flatMap(({ path, asked }): readonly Page[] => {
    const fields = asked.flatMap(({ at, spec: { domain, unit } }): readonly NumberField[] =>
      domain.kind === "number" && unit !== undefined
        ? [{ at, kept: storedPointer(at, stored.sets), from: domain.from, to: domain.to }]
        : [],
    );
    return fields.length < 2 ? [] : [{ visit, path, sets: stored.sets.join(","), fields }];
  });
};

const STEPS = 100_000;

/** The number of a field on a try: no two tries of one office have the same. */
export const numberOf = ({ from, to }: NumberField, count: number): number =>
  Number((from + ((to - from) * (STEPS / 4 + count)) / STEPS).toPrecision(9));
