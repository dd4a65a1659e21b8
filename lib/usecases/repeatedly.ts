/**
 * Does something now and again every so many milliseconds, for as long as the program runs; it keeps no program running. What takes longer is not begun
 * twice, and what fails is tried again the next time. Returns what ends it.
 */
export const repeatedly = (act: () => Promise<unknown>, every: number): (() => void) => {
  let busy = false;
  const once = async (): Promise<void> => {
    if (busy) return;
    busy = true;
    await act().catch(() => undefined);
    busy = false;
  };
  void once();
  const timer = setInterval(() => void once(), every);
  timer.unref();
  return () => clearInterval(timer);
};
