import { readFileSync } from "node:fs";
import { dayTextsIn, dayWasIn } from "../../app/_server/dayForm.ts";
import { findingQuery } from "../../app/_server/findingQuery.ts";
import { ownPath } from "../../app/_server/gate.ts";
import { textsIn, wasIn } from "../../app/_server/particularsForm.ts";
import { policyTextsIn } from "../../app/_server/policyForm.ts";
import { readBody } from "../../app/_server/readForm.ts";
import { resultsIn, strangeResults } from "../../app/_server/resultForm.ts";
import { reviewForm } from "../../app/_server/reviewForm.ts";
import { recipientsTyped } from "../../app/_server/sendForm.ts";
import { fieldsIn, strangeIn } from "../../app/_server/stepForm.ts";
import { personOfForm } from "../../lib/access/formToken.ts";
import { sealed, unsealed } from "../../lib/access/message.ts";
import { markOfPage, markOfSession, replySession } from "../../lib/access/replyLink.ts";
import { readDay } from "../../lib/figures/readDay.ts";
import { isEmail } from "../../lib/model/text.ts";
import { checkedMail, type Mail } from "../../lib/outside/mail.ts";
import { mailServerOf } from "../../lib/outside/smtpUrl.ts";
import { askedOf } from "../../lib/plan/asked.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { namesIn } from "../../lib/plan/readable.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { kindOfFile } from "../../lib/reply/fileKind.ts";
import { replyFromMail } from "../../lib/reply/fromMail.ts";
import { replySteps } from "../../lib/reply/steps.ts";
import { readAnswer } from "../../lib/reply/values.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { readRulebook } from "../../lib/rulebook/schema.ts";
import { readQuantity } from "../../lib/units/parse.ts";
import { UNITS } from "../../lib/units/units.ts";
import { shownName } from "../../lib/usecases/exchange/files.ts";
import { faultsAt, filledIn } from "../../lib/usecases/exchange/fillStep.ts";
import { fieldsByRef } from "../../lib/usecases/exchange/reply.ts";
import { readFormerPlan } from "../../lib/usecases/formerPlan.ts";
import { parseJson } from "../../lib/usecases/parseJson.ts";
import { planDocument } from "../../lib/usecases/planFile.ts";
import { VISITS } from "../golden/golden.ts";
import { BASELINE, joined, PNG, PROGRESSIVE, RESTARTS, raw, zipOf } from "../reply/uploads.ts";
import { type Chance, nastyForm, nastyText, spoiled, spoiledBytes, spoiledText } from "./nasty.ts";

/** Something that reads what comes from outside. Reading says whether it was taken; it never throws. */
export interface Parser {
  readonly name: string;
  /** Files of the program whose reading of outside data this tries. */
  readonly covers: readonly string[];
  /** The longest that one input may take, in milliseconds. */
  readonly limit: number;
  /** Of a hundred inputs of all parsers so many are for this one. */
  readonly share: number;
  /** Makes one input of a seed and gives the reading of it. */
  readonly input: (chance: Chance) => () => boolean | Promise<boolean>;
  /** For what reads one text: whether it was taken. Tried with runs of ever double the length. */
  readonly text?: (text: string) => boolean;
  /** Longest text that reaches it, in characters. */
  readonly longest?: number;
}

const planner = newPlanner(rulebook);
const VISIT_TEXTS = VISITS.map((name) => readFileSync(`fixtures/visits/${name}.json`, "utf8"));
const VISIT_FILES = VISIT_TEXTS.map((text) => JSON.parse(text) as object);
const RULEBOOK = JSON.parse(JSON.stringify(rulebook)) as object;

const planned = (document: unknown) => planDocument(planner, document);
const first = planned(VISIT_FILES.find((_, place) => VISITS[place] === "mixed-channels"));
if (!first.ok) throw new Error("the visit that replies are made to is no good");
const { plan, read } = first.value;
const PLAN = JSON.parse(JSON.stringify(plan)) as Plan;
const asked = askedOf(plan, rulebook, new Set(), { read, units: "metric" });
const { specAt } = namesIn(plan, rulebook);
const steps = replySteps(asked);
const LETTER = { mark: "TSO/1", asked };
const READING = { specAt, today: "2026-03-02" };

const visitText = (text: string): boolean => {
  const document = parseJson(text, "a visit file");
  return document.ok && planned(document.value).ok;
};
const mailText = (text: string): boolean => {
  const reply = replyFromMail(text, LETTER, { name: "A. Brandvold" }, READING);
  return reply.ok && reply.value.understood.length > 0;
};
const answered = (text: string): boolean =>
  asked.questions
    .slice(0, 6)
    .map((question) => readAnswer(question, text, READING).ok)
    .some((ok) => ok);

const MAIL_LINES = [
  ...asked.questions.slice(0, 12),
  ...asked.requests.slice(0, 8),
  ...asked.tests.slice(0, 8),
  ...asked.known.slice(0, 6),
].map(({ ref }) => ref);
const goodMail = (chance: Chance): string =>
  [
    "Dear sirs,",
    ...MAIL_LINES.filter(() => chance.below(2) === 0).map(
      (ref) =>
        `${ref}${chance.one([": ", " - ", " ", ", R2: "])}${chance.one(["dry", "yes", "no", "agreed", "not known by 12 March", "8,5 mm", "instead we propose a bath", nastyText(chance, 300)])}`,
    ),
    "Best regards",
    "A. Brandvold",
    "> Q1: wet",
  ].join("\n");

const SECRET = "a secret of thirty-two characters or more";
const NOW = 1_772_000_000_000;
const SEALS: readonly string[] = [
  sealed({ problem: "x", field: "y" }, SECRET, NOW),
  replySession("abc", SECRET, NOW),
  `..${"."}`,
  "a.b.c",
  ".1.x",
];
const seal = (text: string): boolean =>
  [personOfForm(text, SECRET, NOW), markOfSession(text, SECRET, NOW), markOfPage(text, SECRET, NOW)].some((one) => one !== null) ||
  Object.keys(unsealed(text, SECRET, NOW)).length > 0;

const PDF = raw(
  "%PDF-1.7\n1 0 obj\n<</Type/Catalog>>\nendobj\nxref\n0 2\n0000000000 65535 f \n0000000009 00000 n \ntrailer\n<</Root 1 0 R/Size 2>>\nstartxref\n43\n%%EOF\n",
);
const TYPES = ["image/png", "image/jpeg", "application/pdf", "", "text/html", "image/png; x=y"];
const FILES: readonly Uint8Array[] = [BASELINE, PROGRESSIVE, RESTARTS, PNG, PDF];
const PIECES: readonly Uint8Array[] = [
  ...FILES,
  zipOf(["a"]),
  raw("%PDF-1.4\n"),
  raw("/JavaScript"),
  raw("<html>"),
  raw("\xff\xd8\xff"),
  raw("\0".repeat(4096)),
  raw("MZ"),
  joined(raw("PK\x05\x06\0\0\0\0"), new Uint8Array(14)),
];

const MAIL: Mail = {
  from: { name: "Office", address: "office@plans.example" },
  to: ["master@vessel.example"],
  subject: "Letter 1",
  text: "Please see the letter.",
  attachments: [{ name: "letter.pdf", type: "application/pdf", content: "x" }],
  messageId: "<letter-1@plans.example>",
  date: "2026-03-02T09:30:00.000Z",
};

const onText = (text: (given: string) => boolean, longest: number) => ({
  text,
  longest,
  input: (chance: Chance) => {
    const given = nastyText(chance, Math.min(longest, 20_000));
    return () => text(given);
  },
});

type OfForm = (form: FormData, chance: Chance) => void;
/** A form is read whatever stands in it: taken is what comes out as data that can be kept. */
const onForm =
  (names: readonly string[], act: OfForm): Parser["input"] =>
  (chance) => {
    const form = nastyForm(names, chance);
    return () => {
      act(form, chance);
      return true;
    };
  };

const multipart = (chance: Chance): Request => {
  const mark = chance.one(["x", "x", "----WebKitFormBoundaryabc", "", 'x"y', "x".repeat(200), "--"]);
  const part = `--${mark}\r\nContent-Disposition: form-data; name="a"; filename="b.pdf"\r\nContent-Type: ${chance.one(TYPES)}\r\n\r\nwhat is in it\r\n`;
  const body = Buffer.from(
    spoiledText(`${part.repeat(1 + chance.below(4))}--${mark}--\r\n`, chance),
    chance.one(["utf8", "latin1", "utf16le"]),
  );
  const type = chance.one([
    `multipart/form-data; boundary=${mark}`,
    `multipart/form-data; boundary="${mark}"`,
    "multipart/form-data",
    "application/x-www-form-urlencoded",
    "text/plain",
    "application/json",
    "",
    "multipart/form-data; boundary",
    "MULTIPART/FORM-DATA; BOUNDARY=x",
  ]);
  const stops = new ReadableStream({
    start: (control) => {
      control.enqueue(body);
      control.error(new Error("cut off"));
    },
  });
  const given = chance.below(8) === 0 ? stops : body;
  return new Request("http://localhost/x", {
    method: "POST",
    body: given,
    ...(given === stops ? { duplex: "half" } : {}),
    headers: type === "" ? {} : { "content-type": type },
  } as RequestInit);
};

const spoiledVisit = (chance: Chance): string => {
  const place = chance.below(VISIT_FILES.length);
  return chance.below(4) === 0
    ? spoiledText(VISIT_TEXTS[place] ?? "", chance, 20_000)
    : (JSON.stringify(spoiled(VISIT_FILES[place] ?? {}, chance)) ?? "");
};

export const PARSERS: readonly Parser[] = [
  {
    name: "visit file",
    covers: [
      "lib/usecases/parseJson.ts",
      "lib/model/read.ts",
      "lib/model/duplicateKeys.ts",
      "app/visits/import/route.ts",
      "lib/cli/files.ts",
    ],
    limit: 5_000,
    share: 1,
    longest: 2_000_000,
    text: visitText,
    input: (chance) => {
      const text = spoiledVisit(chance);
      return () => visitText(text);
    },
  },
  {
    name: "plan of the letter before",
    covers: ["lib/usecases/formerPlan.ts"],
    limit: 2_000,
    share: 1,
    input: (chance) => {
      const text = JSON.stringify(spoiled(PLAN, chance)) ?? "";
      return async () => (await readFormerPlan({ read: async () => ({ ok: true, value: text }) }, "x")).ok;
    },
  },
  {
    name: "rulebook file",
    covers: ["lib/rulebook/schema.ts", "app/what-if/start/route.ts"],
    limit: 2_000,
    share: 1,
    input: (chance) => {
      const text = JSON.stringify(spoiled(RULEBOOK, chance)) ?? "";
      return () => {
        const document = parseJson(text, "a rulebook");
        return document.ok && readRulebook(document.value).ok;
      };
    },
  },
  {
    name: "e-mail",
    covers: ["lib/reply/fromMail.ts", "lib/reply/mailLines.ts", "lib/reply/mailFrame.ts"],
    limit: 3_000,
    share: 4,
    longest: 200_000,
    text: mailText,
    input: (chance) => {
      const text = spoiledText(goodMail(chance), chance);
      return () => mailText(text);
    },
  },
  { name: "answers to questions", covers: ["lib/reply/values.ts"], limit: 1_000, share: 12, ...onText(answered, 500_000) },
  {
    name: "quantities",
    covers: ["lib/units/parse.ts"],
    limit: 1_000,
    share: 24,
    ...onText((text) => UNITS.slice(0, 5).some((unit) => readQuantity(text, unit).ok), 500_000),
  },
  {
    name: "days",
    covers: ["lib/figures/readDay.ts"],
    limit: 1_000,
    share: 20,
    ...onText((text) => readDay(text, "2026-03-02").ok || readDay(text).ok, 500_000),
  },
  {
    name: "mail addresses",
    covers: ["lib/model/text.ts", "app/_server/accountForm.ts"],
    limit: 1_000,
    share: 4,
    ...onText(isEmail, 2_000_000),
  },
  {
    name: "mails to be sent",
    covers: ["lib/outside/mail.ts"],
    limit: 1_000,
    share: 5,
    longest: 20_000,
    text: (text) => checkedMail({ ...MAIL, to: [text], subject: text, messageId: text }).ok,
    input: (chance) => {
      const mail = spoiled(MAIL, chance) as Mail;
      return () => checkedMail(mail).ok;
    },
  },
  {
    name: "address of the mail server",
    covers: ["lib/outside/smtpUrl.ts"],
    limit: 1_000,
    share: 4,
    ...onText((text) => mailServerOf(text).ok, 20_000),
  },
  {
    name: "seals, tokens, cookies",
    covers: ["lib/access/message.ts", "lib/access/seal.ts", "lib/access/formToken.ts", "lib/access/replyLink.ts"],
    limit: 1_000,
    share: 6,
    longest: 100_000,
    text: seal,
    input: (chance) => {
      const text = spoiledText(chance.one(SEALS), chance);
      return () => seal(text);
    },
  },
  {
    name: "paths to go back to",
    covers: ["app/_server/gate.ts"],
    limit: 1_000,
    share: 3,
    ...onText((text) => ownPath(text) !== "/visits", 100_000),
  },
  {
    name: "names of files",
    covers: ["lib/usecases/exchange/files.ts"],
    limit: 1_000,
    share: 3,
    ...onText((text) => shownName(text).length <= 120, 500_000),
  },
  {
    name: "files with a reply",
    covers: ["lib/reply/fileKind.ts", "lib/reply/foreign.ts", "lib/reply/whole.ts", "app/reply/files/route.ts"],
    limit: 2_000,
    share: 9,
    input: (chance) => {
      const bytes = spoiledBytes(chance.one(FILES), PIECES, chance);
      const declared = { name: chance.one(["a.pdf", "a.png", "a.jpg", nastyText(chance, 100)]), type: chance.one(TYPES) };
      return () => kindOfFile(bytes, declared).ok;
    },
  },
  {
    name: "bodies of requests",
    covers: ["app/_server/readForm.ts"],
    limit: 2_000,
    share: 5,
    input: (chance) => {
      const request = multipart(chance);
      return async () => (await readBody(request, 100_000)).ok;
    },
  },
  {
    name: "answers on a page",
    covers: ["app/_server/stepForm.ts"],
    limit: 1_000,
    share: 2,
    input: onForm(["/sets/0/plate/ratedPower.text", "/sets/0/plate/ratedPower.seen", "/sets/0/plate/ratedPower.unit"], (form) =>
      JSON.stringify([fieldsIn(form), strangeIn(form, ["token"])]),
    ),
  },
  {
    name: "particulars",
    covers: ["app/_server/particularsForm.ts"],
    limit: 1_000,
    share: 1,
    input: onForm(["was", "visit-vessel-name", "sets"], (form) => JSON.stringify([textsIn(form), wasIn(form)])),
  },
  {
    name: "day",
    covers: ["app/_server/dayForm.ts"],
    limit: 1_000,
    share: 2,
    input: onForm(["was", "act", "start", "pin 1"], (form) => JSON.stringify([dayTextsIn(form), dayWasIn(form)])),
  },
  {
    name: "results",
    covers: ["app/_server/resultForm.ts"],
    limit: 1_000,
    share: 2,
    input: onForm(["/sets/0/overspeed.seen", "/sets/0/overspeed.became", "/sets/0/overspeed.reading"], (form) =>
      JSON.stringify([resultsIn(form), strangeResults(form)]),
    ),
  },
  {
    name: "review",
    covers: ["app/_server/reviewForm.ts"],
    limit: 1_000,
    share: 1,
    input: onForm(["words", "comment /sets/0/overspeed", "comment "], (form) => JSON.stringify([...reviewForm(form).comments])),
  },
  {
    name: "policy",
    covers: ["app/_server/policyForm.ts"],
    limit: 1_000,
    share: 1,
    input: onForm(["loadLimit", "alsoProve", "margin"], (form) => JSON.stringify(policyTextsIn(form))),
  },
  {
    name: "recipients",
    covers: ["app/_server/sendForm.ts"],
    limit: 1_000,
    share: 1,
    input: onForm(["to", "name-1", "address-1", "address-2"], (form) => JSON.stringify(recipientsTyped(form))),
  },
  {
    name: "queries",
    covers: ["app/_server/findingQuery.ts", "app/_server/query.ts"],
    limit: 1_000,
    share: 2,
    input: (chance) => {
      const query = Object.fromEntries(["vessel", "maker", "from", "to", "settled", "__proto__"].map((name) => [name, nastyText(chance)]));
      return () => findingQuery(query).faults.length === 0;
    },
  },
  {
    name: "pages of a reply",
    covers: ["lib/usecases/exchange/fillStep.ts", "lib/reply/fromForm.ts", "lib/usecases/exchange/reply.ts"],
    limit: 1_000,
    share: 3,
    input: (chance) => {
      const step = chance.one(steps);
      const names = [...fieldsByRef(asked)].filter(([ref]) => step.refs.includes(ref)).flatMap(([, own]) => own);
      const form = nastyForm(names, chance);
      const text = (name: string): string | null => {
        const given = form.get(name);
        return typeof given === "string" ? given : null;
      };
      return () => {
        const filled = filledIn(asked, step, { field: text, seen: nastyText(chance), post: nastyText(chance, 50) });
        const entries = filled.map(({ ref, fields }) => ({ ref, value: fields, version: 1, who: "x", when: "2026-03-02T09:30:00.000Z" }));
        return faultsAt(asked, step.refs, entries, READING).length === 0;
      };
    },
  },
];
