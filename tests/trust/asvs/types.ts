/** A test by its file and its own name, as it stands there. */
export type Shown = readonly [file: string, test: string];

/** One requirement of OWASP ASVS 5.0 (github.com/OWASP/ASVS, 5.0/en), in our words. */
export interface Item {
  readonly id: string;
  readonly level: 1 | 2 | 3;
  readonly what: string;
  /** How it is met; where it is not, "not met: …" with what is done instead. */
  readonly how: string;
  /** Tests that show it. */
  readonly tests?: readonly Shown[];
  /** Why no test shows it, or why it is left as it is. */
  readonly accepted?: string;
}
