/**
 * Does something now and again every so many milliseconds, for as long as the program runs; it keeps no program running. What takes longer is not begun
 * twice, and what fails is tried again the next time. Returns what ends it, and tells when what was begun is over.
 */
export const repeatedly = (act: () => Promise<unknown>, every: number): (() => Promise<void>) => {
  let begun: Promise<void> | undefined;
  const run = async (): Promise<void> => {
    await act().catch(() => undefined);
    begun = undefined;
  };
  const once = (): void => {
    begun ??= run();
  };
  once();
  const timer = setInterval(once, every);
  timer.unref();
  return async () => {
    clearInterval(timer);
    await begun;
  };
};
