import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Forward, passedWords } from "./forward.ts";
import { cutNote, run } from "./run.ts";
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

const walk = async ({ as, by, starts, modules, walking, attack }: Walk, lure: Target["lure"]): Promise<Scan> => {
  by.passed();
  const before = lure.caught().length;
  const folder = mkdtempSync(join(tmpdir(), "forehail-wapiti-"));
  const report = join(folder, "report.json");
  const given = [
    ...["-u", `${by.url}${starts[0] ?? "/"}`, "--scope", "domain", ...starts.slice(1).flatMap((path) => ["-s", `${by.url}${path}`])],
    ...["-m", modules.join(","), "--max-scan-time", String(walking), "--max-attack-time", String(attack), "--max-files-per-dir", "12"],
    ...["--skip", "token", "-t", "10", "-f", "json", "-o", report, "--no-bugreport", "--flush-session"],
    ...["--store-session", folder, "--store-config", folder, "--endpoint", lure.url, "-v", "0"],
  ];
  const ran = await run("wapiti", given, walking + attack * modules.length + 60);
  const passed = by.passed();
  const words = passedWords(passed);
  const caught = lure.caught().slice(before);
  const text = ((): string => {
    try {
      return readFileSync(report, "utf8");
    } catch {
      return "";
    }
  })();
  const own = text === "" ? [`Wapiti made no report: ${ran.out.trim().split("\n").at(-1) ?? ""}`] : wapitiFindings(text);
  return {
    scanner: "wapiti",
    at: `${as}: ${modules.join(" ")}`,
    seconds: ran.seconds,
    requests: passed.requests,
    findings: [...own, ...caught.map((one) => `the program asked another machine: ${one}`), ...words.findings],
    notes: [...words.notes, ...cutNote(ran)],
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
