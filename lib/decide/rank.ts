import { GRADES, type Method, type Way } from "../rulebook/types.ts";
import { type Combination, provenBy } from "./combine.ts";

/** A rank is a list of numbers compared from the left; less is better. */
export type Rank = readonly number[];

const sum = (numbers: readonly number[]): number => numbers.reduce((total, n) => total + n, 0);
const gradeOf = (method: Method): number => GRADES.indexOf(method.grade);

const open = (count: readonly string[]): number => count.filter((state) => state === "open").length;

/** The techniques of a combination, furthest from the real thing first, as digits of one number. */
const techniqueRank = (methods: readonly Method[]): number => {
  const furthestFirst = methods.map((method) => method.technique).sort((a, b) => b - a);
  return furthestFirst.reduce((rank: number, technique, place) => rank + technique * 10 ** -place, 0);
};

/** Rulebook positions as digits, so that the combination standing first in the rulebook ranks first. */
const orderRank = (methods: readonly Method[], positions: ReadonlyMap<string, number>): number =>
  methods.reduce((rank, method, place) => rank + (1 + (positions.get(method.id) ?? 0)) * 100 ** -place, 0);

/** The rank of a combination with its needs met in given ways: the order of preference of the rulebook, criterion by criterion. */
export const rankOf = ({ methods, approved }: Combination, ways: readonly Way[], positions: ReadonlyMap<string, number>): Rank => {
  const proves = provenBy(methods);
  return [
    approved === null ? 1 : 0,
    methods.some((method) => method.makers === true) ? 0 : 1,
    open([proves.sensing, proves.final]),
    methods.some((method) => method.hazard === 2) ? 1 : 0,
    open([proves.wiring, proves.logic]),
    methods.length,
    Math.max(...methods.map((method) => method.hazard)),
    Math.min(...methods.map(gradeOf)),
    techniqueRank(methods),
    Math.max(0, ...ways.map((way) => way.burden)),
    ways.filter((way) => way.burden > 0).length,
    sum(methods.map((method) => method.stops + method.starts)),
    sum(methods.map((method) => method.minutes)),
    orderRank(methods, positions),
  ];
};

export const compareRanks = (a: Rank, b: Rank): number => {
  for (let i = 0; i < Math.max(a.length, b.length); i += 1) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
};
