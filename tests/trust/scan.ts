import { answerOf, openIn } from "./scan/answers.ts";
import { sslscan } from "./scan/encryption.ts";
import { ffuf } from "./scan/hidden.ts";
import { nmap } from "./scan/nmap.ts";
import { slow } from "./scan/slow.ts";
import { sqlmap } from "./scan/sqlmap.ts";
import { startTarget, type Target } from "./scan/target.ts";
import type { Scan } from "./scan/types.ts";
import { wapiti } from "./scan/wapiti.ts";

// `npm run scan [-- nmap wapiti …]`: other people's scanners look at the built program with demo data, on this machine, each for a bounded time. Every finding is
// told with its answer (`scan/answers.ts`); exit code 1 where one has none.

const SCANNERS: Readonly<Record<string, (target: Target) => Promise<readonly Scan[]>>> = {
  nmap,
  sslscan,
  ffuf,
  sqlmap,
  wapiti,
  slowhttptest: slow,
};

const print = (words: string): void => {
  process.stdout.write(`${words}\n`);
};

const tell = ({ scanner, at, seconds, requests, findings, notes }: Scan): void => {
  print(
    `${scanner}, ${at}: ${requests === null ? "" : `${requests} requests, `}${seconds.toFixed(0)} s, ${findings.length === 0 ? "nothing found" : `${findings.length} findings`}`,
  );
  for (const note of notes) print(`    (${note})`);
  for (const finding of findings) print(`  - ${finding}\n      ${answerOf(finding) ?? "OPEN: nobody has answered this"}`);
};

const named = process.argv.slice(2);
const chosen = Object.entries(SCANNERS).filter(([name]) => named.length === 0 || named.includes(name));
print(
  "Each scanner is one person behind a proxy of ours that the program believes: every twenty requests come from another address and browser, so that the pace of",
);
print("each address does not hide the pages. How many were turned away all the same (429) stands among the answers.\n");
const target = await startTarget();
const scans: Scan[] = [];
try {
  for (const [, scan] of chosen)
    for (const one of await scan(target)) {
      scans.push(one);
      tell(one);
    }
} finally {
  await target.stop();
}
const open = openIn(scans);
const total = scans.reduce((sum, { seconds }) => sum + seconds, 0);
print(
  `\n${scans.length} scans in ${total.toFixed(0)} s, ${scans.reduce((sum, { requests }) => sum + (requests ?? 0), 0)} requests counted, ${scans.reduce((sum, { findings }) => sum + findings.length, 0)} findings, ${open.length} open`,
);
process.exit(open.length === 0 ? 0 : 1);
