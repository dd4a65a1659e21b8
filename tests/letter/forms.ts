import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { bundle } from "../../lib/cli/bundle.mjs";
import type { Letter } from "../../lib/letter/blocks.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { openRenderer, type Renderer } from "../../lib/letter/render.ts";
import type { FactSpec } from "../../lib/model/fact.ts";
import { type Asked, askedOf } from "../../lib/plan/asked.ts";
import { namesIn } from "../../lib/plan/readable.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { scratch } from "../cli/cli.ts";
import { planned, visitText } from "./letters.ts";

/** A letter with a form, and what it asks. */
export interface FormLetter {
  readonly plan: Plan;
  readonly letter: Letter;
  readonly asked: Asked;
  readonly mark: string;
  readonly specAt: (at: string) => FactSpec | undefined;
}

export const formLetter = async (name: string, mark = `${name}/1`): Promise<FormLetter> => {
  const { plan, read } = await planned(visitText(name));
  const letter = letterOf({ plan, read, rulebook, units: "metric", form: { mark } });
  return {
    plan,
    letter,
    asked: askedOf(plan, rulebook, new Set(), { read, units: "metric" }),
    mark,
    specAt: namesIn(plan, rulebook).specAt,
  };
};

/** Where the bundle of that name lies. */
export const bundled = async (name: string): Promise<URL> => pathToFileURL(join(await bundle(), `${name}.mjs`));

export const formRenderer = async (): Promise<Renderer> => openRenderer({ timeout: 90_000, memory: 512 }, await bundled("worker"));

/** The file of a letter in a scratch folder. */
export const fileOf = async (renderer: Renderer, letter: Letter): Promise<string> => {
  const pdf = await renderer.render(letter);
  if (!pdf.ok) throw new Error(pdf.faults.join());
  const folder = scratch();
  const path = join(folder, "letter.pdf");
  writeFileSync(path, pdf.value);
  return path;
};
