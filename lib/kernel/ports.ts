/** What the pure code asks of the world instead of taking it: the office's clock and names for new things. */
export interface World {
  /** The instant, UTC, in ISO 8601 with milliseconds. */
  readonly now: () => string;
  /** A name that nobody can guess and that was never given before. */
  readonly newId: () => string;
}
