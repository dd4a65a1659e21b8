// Runs a command and prints the largest sum of resident memory that it and its children had at one time.
import { spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";

const [command, ...args] = process.argv.slice(2);
const child = spawn(command, args, { stdio: "ignore" });

const processes = () =>
  readdirSync("/proc").filter((name) => /^\d+$/.test(name)).flatMap((pid) => {
    try {
      const status = readFileSync(`/proc/${pid}/status`, "utf8");
      const of = (field) => Number(new RegExp(`^${field}:\\s+(\\d+)`, "m").exec(status)?.[1] ?? 0);
      return [{ pid: Number(pid), parent: of("PPid"), kib: of("VmRSS"), name: /^Name:\s+(.*)$/m.exec(status)?.[1] }];
    } catch {
      return [];
    }
  });

let largest = 0;
let single = 0;
const look = setInterval(() => {
  const all = processes();
  const family = new Set([child.pid]);
  for (let grew = true; grew; ) {
    grew = false;
    for (const { pid, parent } of all) if (family.has(parent) && !family.has(pid)) grew = Boolean(family.add(pid));
  }
  const mine = all.filter(({ pid }) => family.has(pid));
  largest = Math.max(largest, mine.reduce((sum, { kib }) => sum + kib, 0));
  single = Math.max(single, ...mine.map(({ kib }) => kib));
}, 20);
child.on("close", () => {
  clearInterval(look);
  console.log(`Memory: at most ${(largest / 1024).toFixed(0)} MiB resident with all children (shared pages counted twice), ${(single / 1024).toFixed(0)} MiB in one process`);
});
