import { randomUUID } from "node:crypto";

/** What is told once and kept nowhere else lives so long, in milliseconds. */
const LASTS = 10 * 60_000;

interface Held {
  readonly person: string;
  readonly value: unknown;
  readonly until: number;
}

/** Pages and handlers are bundled apart from each other; what they hand over hangs on the process, never in the database. */
const shared = globalThis as typeof globalThis & {
  forehailOnce?: Map<string, Held>;
  forehailUnderWay?: Map<string, Promise<unknown>>;
};

const held = (): Map<string, Held> => {
  shared.forehailOnce ??= new Map();
  for (const [id, { until }] of shared.forehailOnce) if (until < Date.now()) shared.forehailOnce.delete(id);
  return shared.forehailOnce;
};

/** Holds a value for one person for ten minutes; by what it is asked for. */
export const put = (person: string, value: unknown): string => {
  const id = randomUUID();
  held().set(id, { person, value, until: Date.now() + LASTS });
  return id;
};

/** The value that is held for a person, who takes it away with that; null where there is none, or none of his. */
export const take = (id: string, person: string): unknown => {
  const found = held().get(id);
  if (found === undefined || found.person !== person) return null;
  held().delete(id);
  return found.value;
};

/** Does something that must not be done twice at once: whoever asks for the same meanwhile is given the outcome of the first. */
export const alone = <Outcome>(key: string, act: () => Promise<Outcome>): Promise<Outcome> => {
  shared.forehailUnderWay ??= new Map();
  const underWay = shared.forehailUnderWay;
  const already = underWay.get(key) as Promise<Outcome> | undefined;
  if (already !== undefined) return already;
  const doing = act().finally(() => underWay.delete(key));
  underWay.set(key, doing);
  return doing;
};
