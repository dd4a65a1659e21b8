import * as z from "zod";
import { failure, type Result, success } from "../../kernel/result.ts";
import { quotedWords } from "../../model/fault.ts";
import { isEmail, text } from "../../model/text.ts";
import type { Visit } from "../../model/visit.ts";
import { faultWords, NOTHING_WRITTEN } from "../../reply/faultWords.ts";
import type { Recipient } from "./send.ts";

/** Somebody on the vessel's side whom a letter can be sent to, with his place among the people of the visit. */
export interface Known extends Recipient {
  readonly place: number;
  readonly role: string;
}

type People = readonly Visit["visit"]["people"][number][];

/** Those of the vessel's side with an e-mail address. */
export const knownIn = (people: People): readonly Known[] =>
  people.flatMap(({ name, role, side, contact = "" }, place) =>
    side === "vessel" && isEmail(contact.trim()) ? [{ name, role, address: contact.trim(), place }] : [],
  );

/** Those of the vessel's side who cannot be sent a mail, by their names. */
export const withoutAddress = (people: People): readonly string[] =>
  people.filter(({ side, contact = "" }) => side === "vessel" && !isEmail(contact.trim())).map(({ name }) => name);

/** Whom a letter shall go to, as a form says it: known people by their places, and others with names and addresses as typed. */
export interface TypedRecipients {
  readonly known: readonly number[];
  readonly further: readonly Recipient[];
}

/** What is wrong with a recipient: the field it stands in, and what is wanted there. */
export interface RecipientFault {
  readonly field: string;
  readonly says: string;
}

const LONGEST_NAME = 120;
const address = z.email().max(254);
const ADDRESS = "an address such as name@example.org";

/** A fault of a field, by how the form calls it. */
const told = (field: string, given: string, wanted: string): string => `${field}: ${faultWords({ given, wanted })}`;

const furtherFaults = ({ name, address: given }: Recipient, place: number): readonly RecipientFault[] => {
  const says = (field: "name" | "address", words: string): readonly RecipientFault[] => [{ field: `${field}-${place + 1}`, says: words }];
  if (name === "") return says("name", told("Name", NOTHING_WRITTEN, `the name of whoever reads at ${given}`));
  const read = text(LONGEST_NAME).safeParse(name);
  if (!read.success)
    return says("name", told("Name", quotedWords(name), (read.error.issues[0]?.message ?? "another").replace(/^wanted /, "")));
  if (given === "") return says("address", told("E-mail address", NOTHING_WRITTEN, `that of ${name}, ${ADDRESS}`));
  return address.safeParse(given).success ? [] : says("address", told("E-mail address", quotedWords(given), ADDRESS));
};

/** What is the same for two recipients; a link tells its owner by name, and a mail goes to an address once. */
const doubles = (all: readonly (Recipient & { readonly field: string })[]): readonly RecipientFault[] =>
  all.flatMap(({ name, address: own, field }, place) => {
    const before = all.slice(0, place);
    if (before.some((one) => one.address.toLowerCase() === own.toLowerCase()))
      return [{ field, says: told("E-mail address", `${quotedWords(own)}, as for another recipient,`, "each address once") }];
    return before.some((one) => one.name === name)
      ? [{ field, says: told("Name", `${quotedWords(name)}, as for another recipient,`, "names that tell the recipients apart") }]
      : [];
  });

/** The recipients that a form names. Every fault is told with its field. Pure. */
export const recipientsIn = (people: People, { known, further }: TypedRecipients): Result<readonly Recipient[], RecipientFault> => {
  const chosen = knownIn(people)
    .filter(({ place }) => known.includes(place))
    .map(({ name, address: own, place }) => ({ name, address: own, field: `to-${place}` }));
  const typed = further
    .map((one, place) => ({ name: one.name.trim(), address: one.address.trim(), field: `address-${place + 1}`, place }))
    .filter(({ name, address: own }) => name !== "" || own !== "");
  const faults = [
    ...chosen
      .filter((one) => !address.safeParse(one.address).success)
      .map(({ field, address: own }) => ({ field, says: told("E-mail address", quotedWords(own), ADDRESS) })),
    ...typed.flatMap((one) => furtherFaults(one, one.place)),
  ];
  if (faults.length > 0) return failure(...faults);
  const all = [...chosen, ...typed];
  if (all.length === 0)
    return failure({ field: "recipients", says: "Recipients: nobody is chosen; wanted: at least one, with an e-mail address" });
  const same = doubles(all);
  return same.length > 0 ? failure(...same) : success(all.map(({ name, address: own }) => ({ name, address: own })));
};

/** Who got a letter and is none of those that the next one goes to, by address. Pure. */
export const leftOut = (before: readonly Recipient[], to: readonly Recipient[]): readonly Recipient[] => {
  const now = new Set(to.map(({ address: own }) => own.toLowerCase()));
  return before.filter(({ address: own }) => !now.has(own.toLowerCase()));
};

/** That somebody is left out, before it is sent: he holds the last letter and its calendar, and nothing tells him that they hold no more. */
export const leftOutWords = (left: readonly Recipient[], number: number): string => {
  const names = left.map(({ name }) => name);
  const [only] = names;
  return names.length === 1
    ? `${only} got letter ${number} and does not get this one: that letter and the days in its calendar stay with ${only} as they are`
    : `${names.join(", ")} got letter ${number} and do not get this one: that letter and the days in its calendar stay with them as they are`;
};
