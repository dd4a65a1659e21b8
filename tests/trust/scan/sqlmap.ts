import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { passedWords } from "./forward.ts";
import { cutNote, run } from "./run.ts";
import type { Target } from "./target.ts";
import type { Scan } from "./types.ts";

const FOUND = /(?:is vulnerable|appears to be .*injectable|might be injectable)|^Parameter: /;

/** What sqlmap got through, or thinks it might; what it took back itself as a false alarm is none. Pure. */
export const sqlmapFindings = (text: string): readonly string[] => {
  const lines = text.split("\n").map((line) => line.replace(/^\[[^\]]*\] \[[A-Z]+\] /, "").trim());
  const proven = lines.some((line) => line.startsWith("Parameter: "));
  const takenBack = lines.some((line) =>
    /false positive or unexploitable injection point|does not seem to be injectable|all tested parameters do not appear to be injectable/.test(
      line,
    ),
  );
  return [...new Set(lines.filter((line) => FOUND.test(line) && !line.includes("might not be")))].filter(() => proven || !takenBack);
};

interface Tried {
  readonly as: keyof Target["by"];
  readonly path: string;
  readonly data?: string;
  readonly fields: string;
}

const SECONDS = 60;

const tried = async ({ as, path, data, fields }: Tried, target: Target): Promise<Scan> => {
  const by = target.by[as];
  by.passed();
  const folder = mkdtempSync(join(tmpdir(), "forehail-sqlmap-"));
  const given = [
    ...["-u", `${by.url}${path}`, ...(data === undefined ? [] : ["--data", data]), "-p", fields, "--batch", "--level", "2", "--risk", "1"],
    ...[
      "--flush-session",
      "--output-dir",
      folder,
      "--threads",
      "2",
      "--timeout",
      "10",
      "--retries",
      "0",
      "--disable-coloring",
      "--ignore-redirects",
    ],
  ];
  const ran = await run("sqlmap", given, SECONDS);
  const passed = by.passed();
  const words = passedWords(passed);
  return {
    scanner: "sqlmap",
    at: `${as}: ${data === undefined ? "GET" : "POST"} ${path.split("?")[0] ?? ""} (${fields})`,
    seconds: ran.seconds,
    requests: passed.requests,
    findings: [...sqlmapFindings(ran.out), ...words.findings],
    notes: [...words.notes, ...cutNote(ran)],
  };
};

/** sqlmap through the fields that are looked up in the database. */
export const sqlmap = async (target: Target): Promise<readonly Scan[]> => {
  const { tokens } = target;
  const form = (fields: Readonly<Record<string, string>>): string => new URLSearchParams(fields).toString();
  const all: readonly Tried[] = [
    {
      as: "nobody",
      path: "/sign-in/enter",
      data: form({ token: tokens.nobody, email: "mara@office.example", password: "x", back: "/" }),
      fields: "email,password",
    },
    { as: "inspector", path: "/visits?q=kestrel&from=0", fields: "q,from" },
    { as: "supervisor", path: "/log?who=x&act=refused&before=5", fields: "who,act,before" },
    {
      as: "vessel",
      path: "/reply/at/start",
      data: form({ token: tokens.vessel, from: "start", seen: "by=0", post: "a", "by.name": "Łukasz" }),
      fields: "from,seen,post,by.name",
    },
  ];
  const scans: Scan[] = [];
  for (const one of all) scans.push(await tried(one, target));
  return scans;
};
