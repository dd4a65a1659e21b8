/** What was made for a key, or what `make` makes of it now. */
export type Remembered<Value> = (key: string, make: () => Value) => Value;

/** Remembers what was made for the last `most` keys; the one that was asked for longest ago is forgotten first. */
export const newRemembered = <Value>(most: number): Remembered<Value> => {
  const kept = new Map<string, Value>();
  return (key, make) => {
    const value = kept.has(key) ? (kept.get(key) as Value) : make();
    kept.delete(key);
    kept.set(key, value);
    const [oldest] = kept.keys();
    if (kept.size > most && oldest !== undefined) kept.delete(oldest);
    return value;
  };
};
