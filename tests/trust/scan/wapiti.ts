import { existsSync, mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Forward, passedWords } from "./forward.ts";
import { type Ran, run } from "./run.ts";
import type { Target } from "./target.ts";
import type { Scan } from "./types.ts";

interface Entry {
  readonly method?: string;
  readonly path?: string;
  readonly info?: string;
  readonly parameter?: string | null;
}

interface Report {
  readonly vulnerabilities?: Readonly<Record<string, readonly Entry[]>>;
  readonly anomalies?: Readonly<Record<string, readonly Entry[]>>;
}

/** What a report of Wapiti holds, one line each, the same only once. Pure. */
export const wapitiFindings = (text: string): readonly string[] => {
  const { vulnerabilities = {}, anomalies = {} } = JSON.parse(text) as Report;
  const lines = [...Object.entries(vulnerabilities), ...Object.entries(anomalies)].flatMap(([kind, entries]) =>
    entries.map(({ method = "", path = "", info = "", parameter }) => {
      const where = `${method} ${(path.split("?")[0] ?? "").replaceAll(/[A-Za-z0-9_-]{16,}/g, "…")}`;
      return `${kind}: ${where}${parameter ? ` (${parameter})` : ""}: ${info.replaceAll(/\s+/g, " ").slice(0, 160)}`;
    }),
  );
  return [...new Set(lines)];
};

interface Walk {
  readonly as: string;
  readonly by: Forward;
  /** Pages to begin at. */
  readonly starts: readonly string[];
  readonly modules: readonly string[];
  /** Seconds for walking, and for each kind of attack. */
  readonly walking: number;
  readonly attack: number;
}

/** What Wapiti is answered when it asks, interrupted, how to go on: stop, and report what was found. */
const STOP_AND_REPORT = "r\n";
/** Beyond its own limit a module is given so many seconds. */
const GRACE = 15;

const lastLine = ({ out }: Ran): string => out.trim().split("\n").at(-1) ?? "";

const walk = async ({ as, by, starts, modules, walking, attack }: Walk, lure: Target["lure"]): Promise<Scan> => {
  by.passed();
  const before = lure.caught().length;
  const folder = mkdtempSync(join(tmpdir(), "forehail-wapiti-"));
  const given = [
    ...["-u", `${by.url}${starts[0] ?? "/"}`, "--scope", "domain", ...starts.slice(1).flatMap((path) => ["-s", `${by.url}${path}`])],
    ...["--max-scan-time", String(walking), "--max-attack-time", String(attack), "--max-files-per-dir", "12"],
    ...["--skip", "token", "-t", "10", "-f", "json", "--no-bugreport", "--store-session", folder, "--store-config", folder],
    ...["--endpoint", lure.url, "-v", "0"],
  ];
  const found: string[] = [];
  const cut: string[] = [];
  let seconds = 0;
  for (const [place, module] of modules.entries()) {
    const report = join(folder, `${module}.json`);
    // The first walks; the others attack what it found. Its own limit holds between two forms only, and one form can take minutes.
    const limit = attack + GRACE + (place === 0 ? walking : 0);
    const ran = await run(
      "wapiti",
      [...given, ...(place === 0 ? [] : ["--skip-crawl"]), "-m", module, "-o", report],
      limit,
      STOP_AND_REPORT,
    );
    seconds += ran.seconds;
    if (ran.cut) cut.push(module);
    found.push(
      ...(existsSync(report) ? wapitiFindings(readFileSync(report, "utf8")) : [`Wapiti made no report of ${module}: ${lastLine(ran)}`]),
    );
  }
  const passed = by.passed();
  const words = passedWords(passed);
  const caught = lure.caught().slice(before);
  return {
    scanner: "wapiti",
    at: `${as}: ${modules.join(" ")}`,
    seconds,
    requests: passed.requests,
    findings: [...new Set(found), ...caught.map((one) => `the program asked another machine: ${one}`), ...words.findings],
    notes: [...words.notes, ...(cut.length === 0 ? [] : [`ended by time: ${cut.join(", ")}`])],
  };
};

const ATTACKS = ["sql", "exec", "file", "redirect", "crlf", "ssrf", "xss", "permanentxss", "xxe"];

/** Wapiti as nobody, as the vessel, as an inspector: every page it finds, every field, each kind of attack for a while. */
export const wapiti = async ({ by, guarded: { visit }, lure }: Target): Promise<readonly Scan[]> => [
  await walk(
    {
      as: "nobody",
      by: by.nobody,
      starts: ["/sign-in"],
      modules: ["http_headers", "csp", "cookieflags", "methods", "htaccess", "backup", "redirect", "crlf"],
      walking: 10,
      attack: 10,
    },
    lure,
  ),
  await walk(
    {
      as: "vessel",
      by: by.vessel,
      starts: ["/reply/at/start", "/reply/at/check", "/reply/at/files"],
      modules: ATTACKS,
      walking: 15,
      attack: 8,
    },
    lure,
  ),
  await walk(
    {
      as: "inspector",
      by: by.inspector,
      starts: [
        "/visits",
        `/visits/${visit}`,
        `/visits/${visit}/particulars`,
        `/visits/${visit}/exchange`,
        `/visits/${visit}/day`,
        "/rulebook",
      ],
      modules: ATTACKS,
      walking: 30,
      attack: 12,
    },
    lure,
  ),
];
