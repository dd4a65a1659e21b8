const OFFSET = 0xcbf29ce484222325n;
const PRIME = 0x100000001b3n;
const MASK = 0xffffffffffffffffn;

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

/** A 64-bit FNV-1a digest of a value's canonical JSON, 16 hex digits. It tells versions apart; it protects nothing. */
export const digestOf = (value: unknown): string => {
  let hash = OFFSET;
  for (const character of canonical(value)) hash = ((hash ^ BigInt(character.codePointAt(0) ?? 0)) * PRIME) & MASK;
  return hash.toString(16).padStart(16, "0");
};
