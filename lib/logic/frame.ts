/** What a fact may be: one of at most 30 named choices, or a number on a grid. */
export type Domain =
  | { readonly kind: "choice"; readonly values: readonly string[] }
  | { readonly kind: "number"; readonly from: number; readonly to: number; readonly step: number };

export interface Variable {
  readonly at: string;
  readonly domain: Domain;
}

/** The facts that the conditions of one protection mention, in a fixed order. */
export interface Frame {
  readonly variables: readonly Variable[];
  readonly indexOf: ReadonlyMap<string, number>;
  /** What is known before anything is; to be copied, never written. */
  readonly unknown: Knowledge;
}

/**
 * What is known of a frame's facts. A choice is a bit mask of the values still possible; a number is the closed
 * interval [low, high] still possible. One bit, or low = high, is "known".
 */
export interface Knowledge {
  readonly masks: Int32Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

const unknownOf = (variables: readonly Variable[]): Knowledge => {
  const size = variables.length;
  const knowledge = { masks: new Int32Array(size), low: new Float64Array(size), high: new Float64Array(size) };
  variables.forEach(({ domain }, index) => {
    if (domain.kind === "choice") knowledge.masks[index] = (1 << domain.values.length) - 1;
    else {
      knowledge.low[index] = domain.from;
      knowledge.high[index] = domain.to;
    }
  });
  return knowledge;
};

export const frameOf = (variables: readonly Variable[]): Frame => ({
  variables,
  indexOf: new Map(variables.map((variable, index) => [variable.at, index])),
  unknown: unknownOf(variables),
});

export const copyOf = (knowledge: Knowledge): Knowledge => ({
  masks: knowledge.masks.slice(),
  low: knowledge.low.slice(),
  high: knowledge.high.slice(),
});

export const nothingKnown = (frame: Frame): Knowledge => copyOf(frame.unknown);

const single = (mask: number): boolean => mask !== 0 && (mask & (mask - 1)) === 0;

export const isKnown = (frame: Frame, knowledge: Knowledge, index: number): boolean => {
  const domain = frame.variables[index]?.domain;
  if (domain?.kind === "number") return knowledge.low[index] === knowledge.high[index];
  return single(knowledge.masks[index] ?? 0);
};

/** The position of a value among a fact's choices; -1 where it is none of them. */
export const positionOf = (domain: Domain, value: string): number => (domain.kind === "choice" ? domain.values.indexOf(value) : -1);

/** Learns one answer in place; a value outside the domain is left out. Returns the knowledge for chaining. */
export const learn = (frame: Frame, knowledge: Knowledge, at: string, value: string | number): Knowledge => {
  const index = frame.indexOf.get(at);
  if (index === undefined) return knowledge;
  const domain = frame.variables[index]?.domain;
  if (domain?.kind === "number" && typeof value === "number") {
    knowledge.low[index] = value;
    knowledge.high[index] = value;
  } else if (domain?.kind === "choice" && typeof value === "string") {
    const position = positionOf(domain, value);
    if (position >= 0) knowledge.masks[index] = 1 << position;
  }
  return knowledge;
};
