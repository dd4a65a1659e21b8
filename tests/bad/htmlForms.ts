/** A field as a page sends it: its name, and what stands in it. */
export type Field = readonly [name: string, value: string];

/** A form of a page: where it is sent, and what it sends if nobody changes anything. */
export interface PageForm {
  readonly action: string;
  readonly fields: readonly Field[];
}

const NAMED: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };
const plain = (html: string): string =>
  html.replaceAll(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex?: string, number?: string, name?: string) => {
    if (hex !== undefined) return String.fromCodePoint(Number.parseInt(hex, 16));
    return number !== undefined ? String.fromCodePoint(Number(number)) : (NAMED[name ?? ""] ?? whole);
  });

const attribute = (tag: string, name: string): string | undefined => {
  const found = new RegExp(`\\s${name}(?:="([^"]*)")?(?=[\\s/>])`, "i").exec(tag);
  return found === null ? undefined : plain(found[1] ?? "");
};

const chosen = (inner: string): string => {
  const options = inner.match(/<option\b[^>]*>/gi) ?? [];
  const tag = options.find((option) => attribute(option, "selected") !== undefined) ?? options[0] ?? "<option>";
  return attribute(tag, "value") ?? "";
};

const TAGS = /<(input|button)\b[^>]*>|<(select|textarea)\b[^>]*>([\s\S]*?)<\/\2>/gi;

/** Every field of a form, ticked or not: more than a browser sends, which is only more to be read. */
const fieldsIn = (html: string): readonly Field[] =>
  [...html.matchAll(TAGS)].flatMap(([tag, _, kind, inner = ""]): readonly Field[] => {
    const name = attribute(tag, "name");
    if (name === undefined) return [];
    if (kind?.toLowerCase() === "select") return [[name, chosen(inner)]];
    return [[name, kind === undefined ? (attribute(tag, "value") ?? "") : plain(inner)]];
  });

/** The forms of a page that are posted, one more for each button that sends its form elsewhere. */
export const formsOf = (html: string): readonly PageForm[] =>
  [...html.matchAll(/<form\b([^>]*)>([\s\S]*?)<\/form>/gi)].flatMap(([, tag = "", inner = ""]) => {
    const fields = fieldsIn(inner);
    const elsewhere = [...inner.matchAll(/<button\b[^>]*>/gi)].map(([button]) => attribute(button, "formaction"));
    const actions = [attribute(`<form${tag}>`, "action"), ...elsewhere];
    return [...new Set(actions)].flatMap((action) => (action?.startsWith("/") === true ? [{ action, fields }] : []));
  });

/** Where a page leads within the office. */
export const linksOf = (html: string): readonly string[] =>
  [...html.matchAll(/<a\b[^>]*>/gi)].flatMap(([tag]) => {
    const to = attribute(tag, "href");
    return to?.startsWith("/") === true ? [to.replace(/#.*$/, "")] : [];
  });
