import type { PrivacyStore } from "../../store/privacy/privacy.ts";
import type { Tidied } from "../../store/privacy/tidy.ts";
import type { RunningStore } from "../../store/running.ts";
import { repeatedly } from "../repeatedly.ts";

interface House {
  readonly privacy: Pick<PrivacyStore, "tidyUp">;
  readonly store: Pick<RunningStore, "forgetPast">;
  readonly clock: () => number;
}

const HOUR = 60 * 60_000;

/** Removes what has run out. What cannot be removed now, since somebody else writes or removes it too, is removed an hour later. */
export const tidyUp = async ({ privacy, store, clock }: House): Promise<Tidied> => {
  await store.forgetPast(clock()).catch(() => undefined);
  return privacy.tidyUp(clock()).catch(() => ({}));
};

/** Tidies up now and every hour for as long as the program runs. Returns what ends it. */
export const keepTidy = (house: House): (() => Promise<void>) => repeatedly(() => tidyUp(house), HOUR);
