/** Why a database takes nothing now, though nothing is wrong with what it was asked. */
export type Away = "full" | "read only" | "busy" | "not reached";

/** By the codes of both databases and of the machine below them, each by how it begins; the longer goes before. */
const BY_CODE: readonly (readonly [begins: string, away: Away])[] = [
  ["SQLITE_FULL", "full"],
  ["SQLITE_READONLY", "read only"],
  ["SQLITE_BUSY", "busy"],
  ["SQLITE_LOCKED", "busy"],
  ["SQLITE_IOERR", "not reached"],
  ["SQLITE_CANTOPEN", "not reached"],
  ["SQLITE_NOTADB", "not reached"],
  ["SQLITE_CORRUPT", "not reached"],
  ["ENOSPC", "full"],
  ["EDQUOT", "full"],
  ["EROFS", "read only"],
  ["ECONNREFUSED", "not reached"],
  ["ECONNRESET", "not reached"],
  ["ENOTFOUND", "not reached"],
  ["EAI_AGAIN", "not reached"],
  ["EHOSTUNREACH", "not reached"],
  ["ENETUNREACH", "not reached"],
  ["ETIMEDOUT", "not reached"],
  ["EPIPE", "not reached"],
  // PostgreSQL: no room on its disk; too many connections; told to stop or starting; the connection broke; only to be read from.
  ["53100", "full"],
  ["53", "busy"],
  ["57014", "busy"],
  ["57P", "not reached"],
  ["08", "not reached"],
  ["25006", "read only"],
  ["25P03", "busy"],
  ["55P03", "busy"],
];

/** The library for PostgreSQL tells some broken connections in words only. */
const IN_WORDS = /connection terminated|connection timeout|timeout exceeded when trying to connect|not queryable|query read timeout/i;

const codeOf = (error: object): string => ("code" in error && typeof error.code === "string" ? error.code : "");

/** Looked for in an error, in what caused it, and where several addresses were tried in each of theirs. */
export const awayBecause = (error: unknown, depth = 0): Away | null => {
  if (typeof error !== "object" || error === null || depth > 3) return null;
  const code = codeOf(error);
  const known = BY_CODE.find(([begins]) => code.startsWith(begins));
  if (known !== undefined) return known[1];
  if (error instanceof Error && IN_WORDS.test(error.message)) return "not reached";
  const within = [...("cause" in error ? [error.cause] : []), ...(error instanceof AggregateError ? error.errors : [])];
  return within.map((one) => awayBecause(one, depth + 1)).find((one) => one !== null) ?? null;
};
