import type { PrivacyStore } from "../../store/privacy/privacy.ts";
import type { Tidied } from "../../store/privacy/tidy.ts";

interface House {
  readonly privacy: Pick<PrivacyStore, "tidyUp">;
  readonly clock: () => number;
}

const HOUR = 60 * 60_000;

/** Removes what has run out. What cannot be removed now, since somebody else writes or removes it too, is removed an hour later. */
export const tidyUp = ({ privacy, clock }: House): Promise<Tidied> => privacy.tidyUp(clock()).catch(() => ({}));

/** Tidies up now and every hour for as long as the program runs; it keeps no program running. Returns what ends it. */
export const keepTidy = (house: House): (() => void) => {
  void tidyUp(house);
  const timer = setInterval(() => void tidyUp(house), HOUR);
  timer.unref();
  return () => clearInterval(timer);
};
