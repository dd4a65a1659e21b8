import { readFileSync } from "node:fs";
import { join } from "node:path";
import { rulebook } from "../../rulebook/rulebook.ts";
import type { Office } from "../../usecases/office.ts";

/** Which program this is. */
export const VERSIONS = {
  version: String((JSON.parse(readFileSync(join(process.cwd(), "package.json"), "utf8")) as { readonly version: unknown }).version),
  rulebook: rulebook.version,
} as const;

/** That the process answers, whatever else does. */
export const healthText = (): string => `${JSON.stringify({ status: "up", ...VERSIONS })}\n`;

/** Pages hang the office on the process (`app/_server/office.ts`). */
export const runningOffice = (): Promise<Office> | undefined =>
  (globalThis as typeof globalThis & { readonly forehailOffice?: Promise<Office> }).forehailOffice;

export type NotReady = "stopping" | "office" | "database" | "tables" | "letters";

/** Which parts cannot serve just now; nothing where all can. */
export const partsNotReady = async (stopping: boolean): Promise<readonly NotReady[]> => {
  if (stopping) return ["stopping"];
  const office = await runningOffice()?.catch(() => undefined);
  return office === undefined ? ["office"] : office.notReady();
};

export const readyText = (parts: readonly NotReady[]): string =>
  `${JSON.stringify(parts.length === 0 ? { status: "ready", ...VERSIONS } : { status: "not ready", parts, ...VERSIONS })}\n`;
