/** For each variable (choices by frame index, then components) the branches that count, as bits; EVERY for all of them. */
export type Span = readonly number[];
export const EVERY = -1;

/**
 * Spans, each kept once and known by a number, and the two operations on them remembered: the walk over pairs of nodes
 * asks for the same few spans many thousand times, and making them anew would only feed the garbage collector.
 */
export class SpanTable {
  /** The span without a limit is number 0. */
  static readonly EVERYWHERE = 0;
  readonly #spans: Span[];
  readonly #numbers = new Map<string, number>();
  readonly #united = new Map<number, number>();
  readonly #narrowed = new Map<number, number>();

  constructor(variables: number) {
    this.#spans = [new Array<number>(variables).fill(EVERY)];
  }

  at(number: number): Span {
    return this.#spans[number] ?? [];
  }

  #numberOf(span: Span): number {
    if (span.every((bits) => bits === EVERY)) return SpanTable.EVERYWHERE;
    const key = span.join();
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    this.#numbers.set(key, this.#spans.length);
    this.#spans.push(span);
    return this.#spans.length - 1;
  }

  /** The branches that count in either of two spans. */
  unite(a: number, b: number): number {
    if (a === b) return a;
    if (a === SpanTable.EVERYWHERE || b === SpanTable.EVERYWHERE) return SpanTable.EVERYWHERE;
    const key = a < b ? a * MOST_SPANS + b : b * MOST_SPANS + a;
    const known = this.#united.get(key);
    if (known !== undefined) return known;
    const other = this.at(b);
    const made = this.#numberOf(this.at(a).map((bits, place) => bits | (other[place] ?? 0)));
    this.#united.set(key, made);
    return made;
  }

  /** A span limited to some branches of one variable. */
  narrow(span: number, place: number, mask: number): number {
    const key = (span * MOST_PLACES + place) * MOST_MASKS + mask;
    const known = this.#narrowed.get(key);
    if (known !== undefined) return known;
    const copy = this.at(span).slice();
    copy[place] = mask;
    const made = this.#numberOf(copy);
    this.#narrowed.set(key, made);
    return made;
  }
}

/** Bounds that keep the keys exact: spans of one walk, variables of a protection, masks of at most 20 branches. */
const MOST_SPANS = 2 ** 22;
const MOST_PLACES = 2 ** 8;
const MOST_MASKS = 2 ** 20;
