import type { FieldFault } from "../../lib/flow/fields.ts";
import type { TypedPage } from "./messages.ts";

/** What the server says to an autosave. */
export interface AutosaveAnswer {
  readonly savedAt: string;
  readonly seen: Readonly<Record<string, number>>;
  readonly faults: readonly FieldFault[];
  readonly conflicts: readonly { readonly at: string; readonly theirs: string; readonly who: string; readonly when: string }[];
}

export type AutosaveOutcome = AutosaveAnswer | "signed out" | "not reached";

/** The fields of some questions as a form sends them. */
export const formOf = (token: string, typed: TypedPage, seen: Readonly<Record<string, number>>): URLSearchParams => {
  const form = new URLSearchParams({ token });
  for (const [at, { text, unit, notKnown, sure }] of Object.entries(typed)) {
    form.set(`${at}.text`, text ?? "");
    form.set(`${at}.seen`, String(seen[at] ?? 0));
    if (unit !== undefined && unit !== "") form.set(`${at}.unit`, unit);
    if (notKnown === true) form.set(`${at}.notKnown`, "on");
    if (sure === true) form.set(`${at}.sure`, "on");
  }
  return form;
};

/** Sends what was typed, so that nothing is lost when the page is left. */
export const autosave = async (address: string, form: URLSearchParams, leaving: boolean): Promise<AutosaveOutcome> => {
  try {
    const answer = await fetch(address, { method: "POST", headers: { accept: "application/json" }, body: form, keepalive: leaving });
    if (answer.status === 401) return "signed out";
    return answer.ok ? ((await answer.json()) as AutosaveAnswer) : "not reached";
  } catch {
    return "not reached";
  }
};
