import fc from "fast-check";
import type { FactSpec } from "../../lib/model/fact.ts";
import type { Reply, ReplyAgreement, ReplyAnswer, ReplyConfirmation, ReplyCorrection } from "../../lib/model/reply.ts";
import type { Asked, AskedKnown, AskedQuestion, AskedRequest, AskedTest } from "../../lib/plan/asked.ts";

type SpecAt = (at: string) => FactSpec | undefined;

/** A thing that may be left out. */
const maybe = <Value>(of: fc.Arbitrary<Value>): fc.Arbitrary<Value | undefined> => fc.option(of, { nil: undefined, freq: 2 });

const clean = <Value extends object>(value: Value): Value =>
  Object.fromEntries(Object.entries(value).filter(([, inner]) => inner !== undefined)) as Value;

const LETTERS = [..."abzAZ09 ,.;:-/()'&ąćęłńóśźżŁŻαβγδήώΩΣäöüßéЖя°±µ…"];

/** Words as people write them, Polish, Greek and others among them, on one line. */
export const someWords: fc.Arbitrary<string> = fc
  .array(fc.constantFrom(...LETTERS), { minLength: 1, maxLength: 60 })
  .map((signs) => signs.join("").replace(/\s+/g, " ").trim())
  .filter((text) => text !== "");

const day = fc
  .date({ min: new Date("2026-01-01T00:00:00Z"), max: new Date("2027-12-31T00:00:00Z"), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));

const answerOf = ({ at, choices, unit }: Pick<AskedQuestion, "at" | "choices" | "unit">, specAt: SpecAt): fc.Arbitrary<ReplyAnswer> => {
  const domain = specAt(at)?.domain;
  const numbers =
    domain?.kind === "number"
      ? fc.integer({ min: 0, max: 1000 }).map((step) => {
          const value = domain.from + ((domain.to - domain.from) * step) / 1000;
          // What is counted goes by whole steps.
          if (unit === undefined && domain.step >= 1) return domain.from + Math.floor((value - domain.from) / domain.step) * domain.step;
          return Math.round(value * 100) / 100;
        })
      : fc.constant(0);
  const number = numbers.filter((value) => domain?.kind === "number" && value >= domain.from && value <= domain.to);
  const value: fc.Arbitrary<string | number | { value: number; unit: string }> =
    choices.length > 0
      ? fc.constantFrom(...choices.map((choice) => choice.value))
      : unit === undefined
        ? number
        : fc.oneof(
            number,
            number.map((own) => ({ value: own, unit })),
          );
  return fc.oneof(
    { weight: 3, arbitrary: value.map((own): ReplyAnswer => ({ says: "answer", value: own })) },
    { weight: 1, arbitrary: maybe(day).map((by): ReplyAnswer => clean({ says: "we will find out", by }) as ReplyAnswer) },
  );
};

const correctionOf = (fact: AskedKnown, specAt: SpecAt): fc.Arbitrary<ReplyCorrection> =>
  answerOf(fact, specAt).map((answer) => (answer.says === "answer" ? answer.value : "not known"));

const confirmationOf = ({ had }: AskedRequest): fc.Arbitrary<ReplyConfirmation> => {
  const common = { words: maybe(someWords), contact: maybe(someWords) };
  const how = had.length > 1 ? maybe(fc.constantFrom(...had.map(({ value }) => value))) : fc.constant(undefined);
  return fc
    .oneof(
      fc.record({ says: fc.constant("yes" as const), had: how, by: maybe(day), ...common }),
      fc.record({ says: fc.constant("no" as const), by: maybe(day), ...common }),
      fc.record({ says: fc.constant("by another date" as const), by: day, ...common }),
      fc.record({ says: fc.constant("instead" as const), by: maybe(day), words: someWords, contact: common.contact }),
    )
    .map((one) => clean(one) as ReplyConfirmation);
};

const agreementOf = ({ way, others }: AskedTest): fc.Arbitrary<ReplyAgreement> => {
  const agreed = fc.record({ says: fc.constant("agreed" as const), words: maybe(someWords) });
  const other = fc.record({ says: fc.constant("another way" as const), words: someWords });
  const chosen = others.map(({ value }) =>
    fc.record({ says: fc.constant("another way" as const), method: fc.constant(value), words: maybe(someWords) }),
  );
  return fc.oneof(...(way === "" ? [] : [agreed]), other, ...chosen).map((one) => clean(one) as ReplyAgreement);
};

/** Some of the items with what is said of each. */
const someOf = <Item extends { readonly ref: string }, Value>(
  items: readonly Item[],
  of: (item: Item) => fc.Arbitrary<Value>,
): fc.Arbitrary<Record<string, Value>> =>
  fc
    .tuple(...items.map((item) => maybe(of(item))))
    .map((values) =>
      Object.fromEntries(items.flatMap(({ ref }, place) => (values[place] === undefined ? [] : [[ref, values[place] as Value] as const]))),
    );

/** A reply to what is asked, more or less complete. */
export const someReply = (asked: Asked, mark: string, specAt: SpecAt): fc.Arbitrary<Reply> =>
  fc
    .record({
      format: fc.constant("forehail reply 1" as const),
      letter: fc.constant(mark),
      by: fc.record({ name: someWords, role: maybe(someWords), contact: maybe(someWords) }).map(clean),
      questions: someOf(asked.questions, (question) => answerOf(question, specAt)),
      requests: someOf(asked.requests, confirmationOf),
      tests: someOf(asked.tests, agreementOf),
      corrections: someOf(asked.known, (fact) => correctionOf(fact, specAt)).map((said) =>
        Object.keys(said).length === 0 ? undefined : said,
      ),
      remarks: maybe(someWords),
    })
    .map((reply) => clean(reply) as Reply);

const MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/** A day in one of the ways it is written. */
const dayWritten = (iso: string): string => {
  const [year = "", month = "", own = ""] = iso.split("-");
  const ways = [iso, `${Number(own)} ${MONTHS[Number(month) - 1]} ${year}`, `${own}.${month}.${year}`];
  return ways[Number(own) % ways.length] ?? iso;
};

const SAYS = { yes: "Yes", no: "No", "by another date": "By another date", instead: "Instead we propose" } as const;
const AGREES = { agreed: "Agreed", "another way": "We propose another way" } as const;

const first = (text: string): string => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

const valueWritten = (choices: AskedQuestion["choices"], value: ReplyCorrection): string => {
  if (value === "not known") return choices.length > 0 ? "We don't know" : value;
  if (typeof value === "string") return labelOf(choices, value);
  return typeof value === "number" ? String(value) : `${value.value} ${value.unit}`;
};

const labelOf = (choices: AskedQuestion["choices"], value: unknown): string =>
  first(choices.find((choice) => choice.value === value)?.label ?? "");

/** What a person puts into the fields for a reply, by their names as they were agreed; fields that stay empty are left out. */
export const written = (reply: Reply, asked: Asked): ReadonlyMap<string, string> => {
  const fields: (readonly [string, string | undefined])[] = [
    ["by.name", reply.by.name],
    ["by.role", reply.by.role],
    ["by.contact", reply.by.contact],
    ["remarks", reply.remarks],
  ];
  for (const { ref, choices } of asked.questions) {
    const answer = reply.questions[ref];
    if (answer === undefined) continue;
    if (answer.says === "we will find out") {
      // For a number, or where a day is named, a person need not say it twice.
      fields.push([
        `q.${ref}.answer`,
        answer.by === undefined || Number(ref.slice(1)) % 2 === 0 ? (choices.length > 0 ? "We don't know" : "not known") : undefined,
      ]);
      fields.push([`q.${ref}.by`, answer.by === undefined ? undefined : dayWritten(answer.by)]);
    } else {
      fields.push([`q.${ref}.answer`, valueWritten(choices, answer.value)]);
    }
  }
  for (const { ref, had } of asked.requests) {
    const said = reply.requests[ref];
    if (said === undefined) continue;
    fields.push([`r.${ref}.says`, SAYS[said.says]], [`r.${ref}.had`, said.had === undefined ? undefined : labelOf(had, said.had)]);
    fields.push(
      [`r.${ref}.by`, said.by === undefined ? undefined : dayWritten(said.by)],
      [`r.${ref}.words`, said.words],
      [`r.${ref}.contact`, said.contact],
    );
  }
  for (const { ref, others } of asked.tests) {
    const said = reply.tests[ref];
    if (said === undefined) continue;
    fields.push(
      [`t.${ref}.says`, AGREES[said.says]],
      [`t.${ref}.method`, said.method === undefined ? undefined : labelOf(others, said.method)],
    );
    fields.push([`t.${ref}.words`, said.words]);
  }
  for (const { ref, choices } of asked.known) {
    const value = reply.corrections?.[ref];
    if (value !== undefined) fields.push([`k.${ref}.is`, valueWritten(choices, value)]);
  }
  return new Map(fields.flatMap(([name, value]) => (value === undefined ? [] : [[name, value] as const])));
};
