import { compareDates, isDate } from "../figures/workingDays.ts";
import type { Known, Sets } from "./channels.ts";
import type { Derived } from "./derive.ts";
import { NOT_KNOWN } from "./fact.ts";
import { CFR_OFFSHORE, CFR_PERIODIC } from "./facts/visit.ts";
import { type Fault, quoted, valueAt } from "./fault.ts";
import { type Reference, withReferences } from "./references.ts";

const textAt = (document: unknown, at: string): string | undefined => {
  const value = valueAt(document, at);
  return typeof value === "string" ? value : undefined;
};

const listAt = (document: unknown, at: string): readonly unknown[] => {
  const value = valueAt(document, at);
  return Array.isArray(value) ? value : [];
};

const fault = (at: string, given: unknown, wanted: string): Fault => ({ at, given: quoted(given), wanted });

const windowFaults = (document: unknown): readonly Fault[] => {
  const [prepared, from, to] = ["/preparedOn", "/visit/window/from", "/visit/window/to"].map((at) => textAt(document, at));
  const dated = (date: string | undefined): date is string => date !== undefined && isDate(date);
  const faults: Fault[] = [];
  if (dated(from) && dated(to) && compareDates(to, from) < 0)
    faults.push(fault("/visit/window/to", to, `a day not before the window's first day, ${from}`));
  if (dated(from) && dated(prepared) && compareDates(from, prepared) < 0) {
    faults.push(fault("/visit/window/from", from, `a day not before the plan was prepared, ${prepared}`));
  }
  return faults;
};

/** Every repetition of a key after its first place. */
const repeated = <Item>(
  items: readonly Item[],
  keyOf: (item: Item) => string | undefined,
  tell: (item: Item, place: number, first: number) => Fault,
): readonly Fault[] => {
  const seen = new Map<string, number>();
  return items.flatMap((item, place) => {
    const key = keyOf(item);
    if (key === undefined) return [];
    const first = seen.get(key);
    if (first !== undefined) return [tell(item, place, first)];
    seen.set(key, place);
    return [];
  });
};

const nameFaults = (document: unknown): readonly Fault[] =>
  repeated(
    listAt(document, "/sets"),
    (set) => textAt(set, "/name")?.trim().toLowerCase(),
    (set, place, first) => fault(`/sets/${place}/name`, textAt(set, "/name"), `a name of its own: sets[${first}] is called the same`),
  );

const referenceFaults = (document: unknown): readonly Fault[] => {
  const references = listAt(document, "/references");
  const same = (key: string, what: string) =>
    repeated(
      references,
      (reference) => {
        const value = textAt(reference, key);
        return key === "/for" && value !== undefined ? `${(textAt(reference, "/ref") ?? "")[0]}${value}` : value;
      },
      (reference, place, first) =>
        fault(`/references/${place}${key}`, textAt(reference, key), `${what}: references[${first}] has it already`),
    );
  return [...same("/ref", "a reference handed out once"), ...same("/for", "one reference for each thing")];
};

/** The channels that deviations speak of, by reference and by pointer. */
export const channelsBy = (references: readonly Reference[], channels: readonly string[]): ReadonlyMap<string, string> => {
  const refs = new Map<string, string>();
  for (const one of withReferences(references, "T", channels))
    if (one.ref.startsWith("T") && !refs.has(one.for)) refs.set(one.for, one.ref);
  const pairs = [...channels].reverse().flatMap((channel) => [[channel, channel] as const, [refs.get(channel) ?? "", channel] as const]);
  return new Map(pairs.filter(([name]) => name !== ""));
};

const deviationFaults = (document: unknown, channels: readonly string[], known: Known): readonly Fault[] => {
  const references = listAt(document, "/references").flatMap((reference) => {
    const [ref, key] = [textAt(reference, "/ref"), textAt(reference, "/for")];
    return ref === undefined || key === undefined ? [] : [{ ref, for: key }];
  });
  const deviations = listAt(document, "/deviations");
  const named = channelsBy(references, channels);
  const channelOf = (deviation: unknown): string | undefined => named.get(textAt(deviation, "/protection") ?? "");
  const unknown = deviations.flatMap((deviation, place) => {
    const [protection, method] = [textAt(deviation, "/protection"), textAt(deviation, "/method")];
    if (protection === undefined || method === undefined) return [];
    const channel = channelOf(deviation);
    if (channel === undefined)
      return [fault(`/deviations/${place}/protection`, protection, 'a protection of this visit, like "T3" or "/sets/0/overspeed"')];
    const kind = channel.split("/").at(-1);
    const methods = known.protections.find((protection) => protection.kind === kind)?.methods ?? [];
    return methods.includes(method) ? [] : [fault(`/deviations/${place}/method`, method, `one of ${methods.join(", ")}`)];
  });
  const twice = repeated(deviations, channelOf, (deviation, place, first) =>
    fault(
      `/deviations/${place}/protection`,
      textAt(deviation, "/protection"),
      `one deviation for each protection: deviations[${first}] has this one already`,
    ),
  );
  return [...unknown, ...twice];
};

const sisterFaults = (document: unknown, sets: Sets): readonly Fault[] => {
  const groups = valueAt(document, "/support/sisters");
  const letters = new Set(sets.map(({ sisters }) => sisters));
  if (letters.size === 0) return [];
  return Object.keys(typeof groups === "object" && groups !== null ? groups : {}).flatMap((letter) =>
    letters.has(letter)
      ? []
      : [fault(`/support/sisters/${letter}`, letter, `the letter of a group that a set bears: ${[...letters].join(", ")}`)],
  );
};

/** The size from which an offshore supply vessel falls under subchapter F: 46 CFR 128.110. */
export const OFFSHORE_BELOW = 6000;
/** The size from which 130.400 applies. */
export const OFFSHORE_FROM = 100;

/** Which US test rule a vessel's particulars shut out, with the reason; null where they leave both open (46 CFR 130.400, 128.110). */
export const usBasisShutOut = (document: unknown): { readonly basis: string; readonly why: string } | null => {
  const tonnage = valueAt(document, "/visit/vessel/grossTonnage");
  const offshore = textAt(document, "/visit/vessel/offshoreSupplyVessel");
  const automated = textAt(document, "/visit/vessel/automationReplacesCrew");
  if (offshore === "no") return { basis: CFR_OFFSHORE, why: "the vessel is not certificated under subchapter L" };
  if (automated === "no") return { basis: CFR_OFFSHORE, why: "automation neither replaces nor reduces engine-room crew (46 CFR 130.400)" };
  if (typeof tonnage === "number" && tonnage < OFFSHORE_FROM)
    return { basis: CFR_OFFSHORE, why: `${tonnage} GT is under ${OFFSHORE_FROM} GT (46 CFR 130.400)` };
  if (typeof tonnage === "number" && tonnage >= OFFSHORE_BELOW) {
    return { basis: CFR_OFFSHORE, why: `${tonnage} GT is not under ${OFFSHORE_BELOW} GT (46 CFR 128.110)` };
  }
  if (offshore === "yes" && automated === "yes" && typeof tonnage === "number") {
    return {
      basis: CFR_PERIODIC,
      why: `an offshore supply vessel of ${tonnage} GT whose automation replaces or reduces crew comes under 130.480 (46 CFR 130.400, 128.110)`,
    };
  }
  return null;
};

const basisFaults = (document: unknown): readonly Fault[] => {
  const given = textAt(document, "/ruleBasis");
  const shut = usBasisShutOut(document);
  return shut !== null && given === shut.basis ? [fault("/ruleBasis", given, `another rule basis: ${shut.why}`)] : [];
};

const leftOutFaults = (document: unknown, { protections }: Known): readonly Fault[] => {
  const kinds = protections.map(({ kind }) => kind);
  return listAt(document, "/policy/leaveOut").flatMap((given, place) =>
    typeof given === "string" && !kinds.includes(given)
      ? [fault(`/policy/leaveOut/${place}`, given, `a kind of protection: ${kinds.join(", ")}`)]
      : [],
  );
};

/** Results of an earlier visit that belong to no set of this one, or are of a day after it. Which methods they name is not looked at: rulebooks change. */
const lastTimeFaults = (document: unknown, sets: Sets): readonly Fault[] => {
  const to = textAt(document, "/visit/window/to");
  return listAt(document, "/lastTime").flatMap((past, place) => {
    const [at, on] = [textAt(past, "/at"), textAt(past, "/on")];
    const set = /^\/sets\/(\d+)\//.exec(at ?? "")?.[1];
    return [
      ...(set !== undefined && sets.length > 0 && Number(set) >= sets.length
        ? [fault(`/lastTime/${place}/at`, at, `a protection of a set of this visit: sets[0] to sets[${sets.length - 1}]`)]
        : []),
      ...(on !== undefined && to !== undefined && isDate(on) && isDate(to) && compareDates(on, to) > 0
        ? [fault(`/lastTime/${place}/on`, on, `a day not after the window's last day, ${to}`)]
        : []),
    ];
  });
};

/** Answers that say otherwise than what they follow from. */
const derivedFaults = (document: unknown, derived: readonly Derived[]): readonly Fault[] =>
  derived.flatMap(({ at, value, from, binding }) => {
    const given = textAt(document, at);
    return !binding || given === undefined || given === NOT_KNOWN || given === value
      ? []
      : [fault(at, given, `${quoted(value)}, since ${from}`)];
  });

/** Faults between fields that each are well formed. */
export const contradictionsIn = (
  document: unknown,
  sets: Sets,
  channels: readonly string[],
  known: Known,
  derived: readonly Derived[],
): readonly Fault[] => [
  ...windowFaults(document),
  ...nameFaults(document),
  ...referenceFaults(document),
  ...deviationFaults(document, channels, known),
  ...sisterFaults(document, sets),
  ...basisFaults(document),
  ...leftOutFaults(document, known),
  ...lastTimeFaults(document, sets),
  ...derivedFaults(document, derived),
];
