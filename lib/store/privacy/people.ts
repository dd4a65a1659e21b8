/** Somebody as JSON of a visit, a letter or a reply names him: a name with how he is reached. */
export interface Named {
  readonly name: string;
  /** As it was written: an address, a telephone, both. */
  readonly contact: string;
}

type JsonObject = Readonly<Record<string, unknown>>;

export const isObject = (value: unknown): value is JsonObject => typeof value === "object" && value !== null && !Array.isArray(value);

/** Keys of somebody’s name, and with it of how he is reached. A reply as it is filled in has them with a prefix. */
const NAME = "name";
const CONTACTS = ["contact", "address"];
const PERSON_KEYS = new Set([NAME, ...CONTACTS, "role", "side", "field", "place"]);
const PREFIX = "by.";

/** Somebody named by an object; null where it names nobody. An office has a name and a contact too, and is no person. */
export const namedBy = (value: unknown, key: string): Named | null => {
  if (!isObject(value) || key === "office") return null;
  const keys = Object.keys(value);
  const prefix = typeof value[`${PREFIX}${NAME}`] === "string" ? PREFIX : "";
  const name = value[`${prefix}${NAME}`];
  if (typeof name !== "string" || (prefix === "" && !keys.every((one) => PERSON_KEYS.has(one)))) return null;
  const contacts = CONTACTS.map((one) => value[`${prefix}${one}`]).filter((one): one is string => typeof one === "string");
  return { name: name.trim(), contact: contacts.join(" ") };
};

/** Whether a key is one under which somebody’s name, or how he is reached, is written. */
export const isNameKey = (key: string): boolean => /(^|\.)(name|who|by|to|recipient|inspector|signer|confirmedBy|takenBy)$/.test(key);
export const isContactKey = (key: string): boolean => /(^|\.)(contact|address|email)$/.test(key);

/** Everybody named anywhere within a JSON value. */
export const everybodyIn = (value: unknown, key = ""): readonly Named[] => {
  const own = namedBy(value, key);
  const inside = Array.isArray(value)
    ? value.flatMap((one) => everybodyIn(one))
    : isObject(value)
      ? Object.entries(value).flatMap(([name, one]) => everybodyIn(one, name))
      : [];
  return own === null ? inside : [own, ...inside];
};

const ADDRESS = /[\p{L}\p{N}._%+-]+@[\p{L}\p{N}-]+(?:\.[\p{L}\p{N}-]+)+/gu;

/** E-mail addresses within a text, in small letters. */
export const addressesIn = (text: string): readonly string[] => [...text.matchAll(ADDRESS)].map(([found]) => found.toLowerCase());

/** A text in which the addresses of others are not told. */
export const withoutOthers = (text: string, own: readonly string[]): string =>
  text.replace(ADDRESS, (found) => (own.includes(found.toLowerCase()) ? found : "(another’s address)"));
