import type { Condition } from "../logic/condition.ts";
import type { Domain } from "../logic/frame.ts";
import type { Unit } from "../units/units.ts";

/** What a fact is for: it decides methods, it fills in a figure or step of a method, or it is only kept. */
export type Use = "deciding" | "detail" | "record";

/** A photograph that answers several questions at once: what to show, and where to look for it. */
export const photographs = {
  oilValveBlock: "the lube-oil pressure sensors with their pipes, valves and test points, showing every connection",
  waterSensor: "each jacket-water temperature sensor where it is screwed in, with the plug and the pipe or well around it",
  safetyPanel: "the front of the safety panel or control module with its type plate, and the page that shows its inputs",
  setPointPage: "the page of the set-point list that shows this protection, with its date",
  governor: "the governor or actuator with its plate, and the speed pick-ups at the flywheel",
  dataPlate: "the data plates of engine and alternator",
  relay: "the front of the generator's protection relay with its type, settings and test block, and the reverse-power page",
  emergencyPanel: "the panel of the emergency set with its selector, and the starting store with its gauge or charger",
  bearings: "the generator's bearings with their sensors, pockets and oil pipes, and the terminal boxes",
  crankcase: "the oil-mist detector with its test point, and the leak box of the fuel pipes with what is hot beside it",
  turbine: "the turbine's trip gear, exhaust-pressure sensors with their valves, and the stand-by oil pump's sensor",
} as const;
export type PhotographId = keyof typeof photographs;

/**
 * One thing that can be asked about a visit, a set or a channel. `at` is a JSON pointer into the visit file; `*` stands
 * for the number of a set or the letter of a group of sister sets. Every fact is asked in `question`, with the reason
 * in `why` and, where it helps, where aboard to look in `look`.
 */
export interface FactSpec {
  readonly at: string;
  readonly domain: Domain;
  readonly unit?: Unit;
  /** The number is a difference (a tolerance), so that 9 °F are 5 °C. */
  readonly difference?: true;
  readonly use: Use;
  /** Availability is asked by a request; everything else by a question. */
  readonly carriedBy: "question" | "request";
  /** What it is called in a list of facts: a few words, without the set. */
  readonly name: string;
  readonly question: string;
  readonly why: string;
  readonly look?: string;
  readonly photograph?: PhotographId;
  /** The fact only applies where this holds; elsewhere its answer is of no consequence. */
  readonly parent?: Condition;
  /** Words for answers whose value in the file is an id. */
  readonly labels?: Readonly<Record<string, string>>;
}

export const NOT_KNOWN = "not known";

export const choice = (...values: readonly string[]): Domain => ({ kind: "choice", values });
export const number = (from: number, to: number, step: number): Domain => ({ kind: "number", from, to, step });
export const yesNo = choice("yes", "no");

/** How a thing that is asked for may be had. */
export const ABOARD = "aboard";
export const IN_TIME = "in time";
export const NOT_TO_BE_HAD = "not to be had";
export const availability = choice(ABOARD, IN_TIME, NOT_TO_BE_HAD);

interface Template {
  readonly star: "set" | "sisters" | "none";
  readonly head: string;
  readonly tail: string;
  /** Pointers made before: the same text again, so that looking it up costs no new hashing. */
  readonly made: Map<number | string, string>;
}

/** Templates are few and fixed; cutting them once keeps the planning of many sets quick. */
const cut = new Map<string, Template>();

const templateOf = (template: string): Template => {
  const known = cut.get(template);
  if (known !== undefined) return known;
  const [head = "", tail] = template.split("*");
  const made: Template =
    tail === undefined
      ? { star: "none", head, tail: "", made: new Map() }
      : { star: head === "/sets/" ? "set" : "sisters", head, tail, made: new Map() };
  cut.set(template, made);
  return made;
};

/** The pointer of a template for one set and its group of sister sets. */
export const resolve = (template: string, set: number, sisters: string): string => {
  const { star, head, tail, made } = templateOf(template);
  if (star === "none") return head;
  const place = star === "set" ? set : sisters;
  const known = made.get(place);
  if (known !== undefined) return known;
  const pointer = `${head}${place}${tail}`;
  made.set(place, pointer);
  return pointer;
};

/** How an answer is said: its label where the fact has one. */
export const said = (spec: FactSpec, value: string): string => spec.labels?.[value] ?? value;
