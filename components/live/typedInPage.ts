const NAME = /^(\/.+)\.(text|unit|notKnown|sure)$/;

/** A question as its fields hold it. */
export interface InPage {
  text: string;
  unit?: string;
  notKnown?: boolean;
  sure?: boolean;
}

/** What stands in the fields of a form by now: somebody may have typed before the script came, and what he typed counts. */
export const typedInPage = (form: Element | null): Record<string, InPage> => {
  const typed: Record<string, InPage> = {};
  for (const field of form?.querySelectorAll("input, select") ?? []) {
    if (!(field instanceof HTMLInputElement || field instanceof HTMLSelectElement)) continue;
    const [, at, part] = NAME.exec(field.name) ?? [];
    if (at === undefined) continue;
    const one = typed[at] ?? { text: "" };
    typed[at] = one;
    if (part === "unit") one.unit = field.value;
    else if (field instanceof HTMLInputElement && field.type === "checkbox") one[part === "sure" ? "sure" : "notKnown"] = field.checked;
    else if (!(field instanceof HTMLInputElement && field.type === "radio") || field.checked) one.text = field.value;
  }
  return typed;
};
