import { type Forward, passedWords } from "./forward.ts";
import { cutNote, run } from "./run.ts";
import type { Target } from "./target.ts";
import type { Scan } from "./types.ts";

const ENCRYPTION = ["ssl-enum-ciphers", "ssl-heartbleed", "ssl-poodle", "ssl-ccs-injection", "ssl-dh-params", "ssl-cert"];
const HTTP = [
  ...[
    "http-methods",
    "http-headers",
    "http-security-headers",
    "http-cookie-flags",
    "http-trace",
    "http-cors",
    "http-server-header",
    "http-git",
    "http-enum",
  ],
  ...[
    "http-config-backup",
    "http-backup-finder",
    "http-passwd",
    "http-method-tamper",
    "http-csrf",
    "http-dombased-xss",
    "http-unsafe-output-escaping",
  ],
];

/** Lines of a script that tell of something wrong. */
const WRONG =
  /VULNERABLE|Potentially risky methods|TRACE is enabled|not configured|flag not set|httponly flag|Possibl|Git repository|least strength: [B-F]|warnings|\/\S+: .*(?:folder|file|page)|Form action:|Interesting|directory traversal/i;
const RIGHT = /NOT VULNERABLE|Couldn't find|least strength: A/i;

/** What the scripts of nmap found, by script. Pure. */
export const nmapFindings = (text: string): readonly string[] => {
  let script = "";
  return text.split("\n").flatMap((line) => {
    script = /^\| ?_?([a-z0-9-]+(?:\.txt)?):/.exec(line)?.[1] ?? script;
    return line.startsWith("|") && WRONG.test(line) && !RIGHT.test(line)
      ? [
          `${script}: ${line
            .replace(/^\|_?\s*/, "")
            .replace(`${script}: `, "")
            .trim()}`,
        ]
      : [];
  });
};

/** What listens, by its version line. */
const versionIn = (text: string): string => /^\d+\/tcp\s+open\s+(.*)$/m.exec(text)?.[1]?.trim() ?? "";

interface Look {
  readonly at: string;
  readonly port: number;
  readonly given: readonly string[];
  readonly by?: Forward;
}

const look = async ({ at, port, given, by }: Look): Promise<Scan> => {
  by?.passed();
  const ran = await run("nmap", ["-Pn", "-n", "-sT", "-p", String(port), "--script-timeout", "60s", ...given, "127.0.0.1"], 150);
  const passed = by?.passed();
  const words = passed === undefined ? { findings: [], notes: [] } : passedWords(passed);
  const version = versionIn(ran.out);
  const unseen = version === "" || passed?.requests === 0 ? ["nmap met nothing: nothing was looked at"] : [];
  return {
    scanner: "nmap",
    at,
    seconds: ran.seconds,
    requests: passed?.requests ?? null,
    findings: [...unseen, ...nmapFindings(ran.out), ...words.findings],
    notes: [version, ...words.notes, ...cutNote(ran)],
  };
};

/** nmap: what listens and how it is encrypted at nginx; how the program answers, with its http scripts, which do not ask first whether it speaks http. */
export const nmap = async ({ tls, by }: Target): Promise<readonly Scan[]> => [
  await look({ at: "nginx by the recipe", port: tls, given: ["-sV", "--script", ENCRYPTION.join(",")] }),
  ...(await Promise.all(
    (["nobody", "inspector"] as const).map((as) =>
      look({
        at: `the program as ${as}`,
        port: Number(new URL(by[as].url).port),
        given: ["--script", HTTP.map((name) => `+${name}`).join(","), "--script-args", "httpspider.maxpagecount=12"],
        by: by[as],
      }),
    ),
  )),
];
