import { AGREEMENTS, CONFIRMATIONS, knownFields, questionFields, requestFields, testFields } from "../letter/formFields.ts";
import { NOT_KNOWN } from "../model/fact.ts";
import type { Asked, Choice } from "../plan/asked.ts";
import type { Fields } from "./fromForm.ts";
import { chosen, saysUnknown } from "./values.ts";

/**
 * The fields of a filled form as the reply's pages hold them: what was chosen by its value in place of its words, all else as it was written. For mending
 * by hand what could not be read whole. Pure.
 */
export const pageFieldsOf = (fields: Fields, { questions, requests, tests, known }: Asked): Fields => {
  const page = new Map(fields);
  const choose = (name: string, choices: readonly Choice[]): void => {
    const text = fields.get(name) ?? "";
    const value = chosen(text, choices) ?? (choices.length > 0 && saysUnknown(text) ? NOT_KNOWN : undefined);
    if (text.trim() !== "" && value !== undefined) page.set(name, value);
  };
  for (const { ref, choices } of questions) choose(questionFields(ref).answer, choices);
  for (const { ref, had } of requests) {
    choose(requestFields(ref).says, CONFIRMATIONS);
    choose(requestFields(ref).had, had);
  }
  for (const { ref, others } of tests) {
    choose(testFields(ref).says, AGREEMENTS);
    choose(testFields(ref).method, others);
  }
  for (const { ref, choices } of known) choose(knownFields(ref).is, choices);
  return page;
};
