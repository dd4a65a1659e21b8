/** Canonical JSON: keys sorted by code unit, so that the order of writing does not matter. */
export const canonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (typeof value === "object" && value !== null) {
    const entries = Object.entries(value).filter(([, inner]) => inner !== undefined);
    return `{${entries
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
      .map(([key, inner]) => `${JSON.stringify(key)}:${canonical(inner)}`)
      .join(",")}}`;
  }
  return JSON.stringify(value) ?? "null";
};

/** One 32-bit FNV-1a pass over a text's code units. */
const fnv = (text: string, offset: number): number => {
  let hash = offset;
  for (let place = 0; place < text.length; place += 1) hash = Math.imul(hash ^ text.charCodeAt(place), 0x01000193);
  return hash >>> 0;
};

const hex = (value: number): string => value.toString(16).padStart(8, "0");

/**
 * A digest of a value's canonical JSON, 16 hex digits: two FNV-1a passes with different starts. It tells versions apart;
 * it protects nothing.
 */
export const digestOf = (value: unknown): string => {
  const text = canonical(value);
  return hex(fnv(text, 0x811c9dc5)) + hex(fnv(text, 0x2f0b4c47));
};
