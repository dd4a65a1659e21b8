import { readdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import type { Planner } from "../plan/plan.ts";
import { planCommand, type Show } from "./plan.ts";

const VISITS = "fixtures/visits";
const OUT = "out";

const tell: Show = ({ plan }, file) => {
  const protections = plan.sets.flatMap((set) => set.protections);
  const settled = protections.filter(({ decision }) => decision.state === "settled").length;
  return `${file}: ${plan.visit.vessel}, ${plan.sets.length} sets; ${settled} of ${protections.length} protections settled, ${plan.questions.length} ${plan.questions.length === 1 ? "question" : "questions"}, ${plan.requests.length} requests\n`;
};

/** `demo`: plans every demo visit, writes plans and letters, says where, and ends. */
export const demoCommand = async (planner: Planner): Promise<number> => {
  const files = (await readdir(VISITS)).filter((name) => name.endsWith(".json")).sort();
  const code = await planCommand(planner, [...files.map((name) => join(VISITS, name)), "--out", OUT], tell);
  process.stdout.write(
    `\nPlans (.plan.json) and letters (.letter.pdf) are in ${resolve(OUT)}.\nOne plan in words: npm run -s plan -- ${join(VISITS, files[0] ?? "")}\nWhy a decision is what it is: npm run -s explain -- ${join(VISITS, files.at(-1) ?? "")} T3\n`,
  );
  return code;
};
