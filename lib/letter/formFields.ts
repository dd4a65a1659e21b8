import { digestOf } from "../kernel/digest.ts";
import type { Asked, AskedRequest, AskedTest, Choice } from "../plan/asked.ts";
import { SAY } from "./catalogue.ts";

/** The format of the form in the letter. Who changes what its fields are called or mean gives it another number. */
export const FORM_FORMAT = "forehail form 1";

/** Fields that carry by what the form is known again. */
export const KEPT = { format: "form.format", letter: "form.letter", digest: "form.digest" } as const;

/** Fields that belong to the whole reply. */
export const OWN = { name: "by.name", role: "by.role", contact: "by.contact", remarks: "remarks" } as const;

export const questionFields = (ref: string) => ({ answer: `q.${ref}.answer`, by: `q.${ref}.by` }) as const;

export const requestFields = (ref: string) =>
  ({ says: `r.${ref}.says`, had: `r.${ref}.had`, by: `r.${ref}.by`, words: `r.${ref}.words`, contact: `r.${ref}.contact` }) as const;

export const testFields = (ref: string) => ({ says: `t.${ref}.says`, method: `t.${ref}.method`, words: `t.${ref}.words` }) as const;

export const knownFields = (ref: string) => ({ is: `k.${ref}.is` }) as const;

/** What can be said to a request, with the words of the form. */
export const CONFIRMATIONS = [
  { value: "yes", label: SAY.choose.yes },
  { value: "no", label: SAY.choose.no },
  { value: "by another date", label: SAY.choose.anotherDate },
  { value: "instead", label: SAY.choose.instead },
] as const satisfies readonly Choice[];

/** What can be said to a planned test, with the words of the form. */
export const AGREEMENTS = [
  { value: "agreed", label: SAY.choose.agreed },
  { value: "another way", label: SAY.choose.anotherWay },
] as const satisfies readonly Choice[];

/** What can be said to this test: where no acceptable way is left, nothing is planned that could be agreed to. */
export const agreementsOf = ({ way }: Pick<AskedTest, "way">): readonly (typeof AGREEMENTS)[number][] =>
  AGREEMENTS.filter(({ value }) => way !== "" || value !== "agreed");

/** Whether it is asked how a thing can be had: only where there are several ways. */
export const asksHow = ({ had }: AskedRequest): boolean => had.length > 1;

/** Whether there are other ways to choose from. */
export const offersOthers = ({ others }: AskedTest): boolean => others.length > 0;

/** The names of all fields of the form that asks this, those that are kept among them. */
export const fieldNames = ({ questions, requests, tests, known }: Asked): readonly string[] => [
  ...Object.values(KEPT),
  ...Object.values(OWN),
  ...questions.flatMap(({ ref }) => Object.values(questionFields(ref))),
  ...requests.flatMap((request) => {
    const { had, ...rest } = requestFields(request.ref);
    return [...Object.values(rest), ...(asksHow(request) ? [had] : [])];
  }),
  ...tests.flatMap((test) => {
    const { method, ...rest } = testFields(test.ref);
    return [...Object.values(rest), ...(offersOthers(test) ? [method] : [])];
  }),
  ...known.flatMap(({ ref }) => Object.values(knownFields(ref))),
];

/** A digest over all that the form asks, in its order: whoever alters a question has another one. A form that takes nothing as known
 * has the digest that it had before there were such facts. */
export const formDigest = ({ known, ...asked }: Asked): string => digestOf(known.length === 0 ? asked : { ...asked, known });
