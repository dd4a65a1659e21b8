/** What a line of the log may hold: numbers and names of ours. Never what people wrote, who they are but by id, codes, queries or cookies. */
export type LogFields = Readonly<Record<string, string | number | boolean | readonly string[] | undefined>>;

export type LogLevel = "error" | "info";

const isShown = (level: LogLevel): boolean => {
  const least = process.env["FOREHAIL_LOG"] ?? "info";
  return least === "silent" ? false : level === "error" || least !== "error";
};

/** Writes one line of the log on standard output, a JSON object; the time is UTC. */
export const logLine = (level: LogLevel, what: string, fields: LogFields = {}): void => {
  if (isShown(level)) process.stdout.write(`${JSON.stringify({ time: new Date().toISOString(), level, what, ...fields })}\n`);
};

const DEEPEST = 20;

const textOf = (error: object, name: string): string | undefined => {
  const given = (error as Readonly<Record<string, unknown>>)[name];
  return typeof given === "string" && /^[\w.:-]{1,80}$/.test(given) ? given : undefined;
};

/**
 * An error as the log may hold it: its name, the database's or the system's code, where it happened. Its message is left out, since it may repeat what
 * somebody wrote (`invalid input syntax for type integer: "…"`).
 */
export const errorFields = (error: unknown): LogFields => {
  if (!(error instanceof Error)) return { error: typeof error };
  // Of lines only those that name a place in a file: a message of several lines may look like anything.
  const stack = (error.stack ?? "")
    .replace(error.message, "")
    .split("\n")
    .filter((line) => /^ {4}at [^"]*:\d+:\d+\)?$/.test(line));
  const [code, constraint, digest] = ["code", "constraint", "digest"].map((name) => textOf(error, name));
  const fields = { error: textOf(error, "name") ?? "Error", code, constraint, digest };
  return { ...fields, stack: stack.slice(0, DEEPEST).map((line) => line.trim()) };
};

/** Errors that were told already: the framework hands some on twice. Server and pages are bundled apart; this hangs on the process. */
const shared = globalThis as typeof globalThis & { forehailTold?: WeakSet<object> };
shared.forehailTold ??= new WeakSet();
const told = shared.forehailTold;

export const logError = (what: string, error: unknown, fields: LogFields = {}): void => {
  if (typeof error === "object" && error !== null) {
    if (told.has(error)) return;
    told.add(error);
  }
  logLine("error", what, { ...fields, ...errorFields(error) });
};
