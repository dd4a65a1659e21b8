/** What a command of npm printed, and its exit code. */
export interface Printed {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** What a registry told: nothing wrong, findings, or that it does not tell, with why. */
export type Told =
  | { readonly said: "well" }
  | { readonly said: "findings"; readonly findings: readonly string[] }
  | { readonly said: "nothing"; readonly why: string };

const parsed = (text: string): Readonly<Record<string, unknown>> | null => {
  try {
    const read: unknown = JSON.parse(text);
    return typeof read === "object" && read !== null ? (read as Readonly<Record<string, unknown>>) : null;
  } catch {
    return null;
  }
};

/** The part of an error that says why, without addresses of machines. */
const whyIn = ({ out, err }: Printed): string => {
  const text = `${err}\n${out}`;
  const [line = "no answer that can be read"] = [
    /\b[45]\d\d [A-Z][A-Za-z ]+/,
    /\bE[A-Z]{4,}\b/,
    /[^\n]*(?:not supported|no .* keys)[^\n]*/i,
  ].flatMap((form) => form.exec(text)?.[0] ?? []);
  return line.trim();
};

interface Weak {
  readonly severity?: string;
  readonly via?: readonly (string | { readonly title?: string; readonly url?: string })[];
  readonly range?: string;
}

/** What `npm audit --json` told. Pure. */
export const advisoriesIn = (printed: Printed): Told => {
  const read = parsed(printed.out);
  const weak = read?.["vulnerabilities"] as Readonly<Record<string, Weak>> | undefined;
  if (weak === undefined) return { said: "nothing", why: whyIn(printed) };
  const findings = Object.entries(weak).map(([name, { severity = "", via = [], range = "" }]) => {
    const titles = via.map((one) => (typeof one === "string" ? `by ${one}` : `${one.title ?? "?"} ${one.url ?? ""}`.trim()));
    return `${name} ${range}: ${severity}: ${titles.join("; ")}`;
  });
  return findings.length === 0 ? { said: "well" } : { said: "findings", findings };
};

/** What `npm audit signatures --json` told. Pure. */
export const signaturesIn = (printed: Printed): Told => {
  const read = parsed(printed.out);
  const [invalid, missing] = [read?.["invalid"], read?.["missing"]];
  if (!Array.isArray(invalid) || !Array.isArray(missing)) return { said: "nothing", why: whyIn(printed) };
  const named = (list: readonly unknown[], what: string): readonly string[] =>
    list.map(
      (one) =>
        `${String((one as Readonly<Record<string, unknown>>)["name"])} ${String((one as Readonly<Record<string, unknown>>)["version"])}: ${what}`,
    );
  const findings = [
    ...named(invalid, "its signature is not the registry's"),
    ...named(missing, "it bears no signature though the registry signs"),
  ];
  return findings.length === 0 ? { said: "well" } : { said: "findings", findings };
};
