import type { FieldFault } from "../../lib/flow/fields.ts";
import type { TypedPage } from "./messages.ts";

/** What the server says to an autosave. */
export interface AutosaveAnswer {
  readonly savedAt: string;
  readonly seen: Readonly<Record<string, number>>;
  readonly faults: readonly FieldFault[];
  readonly conflicts: readonly { readonly at: string; readonly theirs: string; readonly who: string; readonly when: string }[];
}

/** Nothing was kept, and why. */
export interface Refused {
  readonly problem: string;
}

export type AutosaveOutcome = AutosaveAnswer | Refused | "signed out" | "not reached";

/** The fields of some questions as a form sends them. */
export const formOf = (
  hidden: Readonly<Record<string, string>>,
  typed: TypedPage,
  seen: Readonly<Record<string, number>>,
): URLSearchParams => {
  const form = new URLSearchParams(hidden);
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
    return answer.status >= 500 ? "not reached" : ((await answer.json()) as AutosaveAnswer | Refused);
  } catch {
    return "not reached";
  }
};
