/** What a scanner came back with. */
export interface Scan {
  readonly scanner: string;
  /** What it looked at, and as whom. */
  readonly at: string;
  readonly seconds: number;
  /** Requests that reached the program; null where nobody counted. */
  readonly requests: number | null;
  /** What it found, each in one line. */
  readonly findings: readonly string[];
  /** What else is worth knowing: that it was ended by time, that it was turned away. */
  readonly notes: readonly string[];
}

/** Why a finding is no fault, or is borne. */
export interface Known {
  readonly finding: RegExp;
  readonly answer: string;
}
