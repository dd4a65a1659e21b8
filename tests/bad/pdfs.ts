import { readFileSync } from "node:fs";
import { Worker } from "node:worker_threads";
import { PDFDocument } from "pdf-lib";
import { formBlocks } from "../../lib/letter/form.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import type { FormRead } from "../../lib/reply/formReader.ts";
import { replyFromPdf } from "../../lib/reply/fromPdf.ts";
import type { ReadForm } from "../../lib/reply/readForm.ts";
import { bundled, fileOf, formLetter, formRenderer } from "../letter/forms.ts";
import { byPdfLib } from "../reply/fill.ts";
import { type Chance, NASTY_NUMBERS, nastyText, spoiledBytes } from "./nasty.ts";
import type { Parser } from "./parsers.ts";

/** A form of ours, filled in and saved by another program, and what its letter asked. */
export interface Filled {
  readonly pdf: Uint8Array;
  /** The same with every object by itself, so that what is changed in it is read. */
  readonly open: Uint8Array;
  readonly asked: Asked;
  readonly mark: string;
}

const NAME = "old-mechanical";

/** A few of what a letter asks: a form is read in a time that goes with its fields, and what can be bad of it does not. */
const someOf = ({ questions, requests, tests, known }: Asked): Asked => ({
  questions: questions.slice(0, 4),
  requests: requests.slice(0, 2),
  tests: tests.slice(0, 2),
  known: known.slice(0, 2),
});

/** The form of a demo letter as the program writes it, short, with a few answers in it. */
export const filledForm = async (): Promise<Filled> => {
  const renderer = await formRenderer();
  const { letter, asked: everything, mark } = await formLetter(NAME);
  const asked = someOf(everything);
  const empty = readFileSync(await fileOf(renderer, { ...letter, blocks: formBlocks(asked, mark) }));
  await renderer.close();
  const [question] = asked.questions.filter(({ choices }) => choices.length === 0);
  const pdf = await byPdfLib(
    empty,
    new Map([["by.name", "A. Brandvold"], ...(question === undefined ? [] : [[`q.${question.ref}.answer`, "12"] as const])]),
  );
  const document = await PDFDocument.load(pdf);
  return { pdf, open: await document.save({ useObjectStreams: false, updateFieldAppearances: false }), asked, mark };
};

const times = <Of>(count: number, of: Of): readonly Of[] => Array.from({ length: count }, () => of);

/** One match of an expression, picked by chance, written otherwise; the text as it is where there is none. */
const otherwise = (text: string, what: RegExp, chance: Chance, by: (found: RegExpMatchArray) => string): string => {
  const found = [...text.matchAll(what)];
  if (found.length === 0) return text;
  const one = chance.one(found);
  return `${text.slice(0, one.index)}${by(one)}${text.slice(one.index + one[0].length)}`;
};

const number = (chance: Chance): string =>
  chance.one([...NASTY_NUMBERS.map(String), "99999999999", "-1", "2147483648", "4294967295", "1.5", "--7", "0000000001"]);
const objectsIn = (text: string): readonly string[] => [...text.matchAll(/(?:^|\n)(\d+) 0 obj/g)].map(([, own = ""]) => `${own} 0 R`);
const ref = (text: string, chance: Chance): string =>
  chance.one([...objectsIn(text).slice(0, 400), "0 0 R", "99999999 0 R", "1 65535 R", "-3 0 R"]);
const FIELD = /\/(?:T|V|TU|DV|DA|FT|Ff|Opt|Kids|Parent|AP|Rect|MaxLen|AcroForm|Fields|Annots|Pages|Root|Type|Subtype)\b/g;
const VALUES: readonly ((chance: Chance, text: string) => string)[] = [
  () => "null",
  () => "<<>>",
  () => "[]",
  () => "true",
  (chance) => number(chance),
  (chance, text) => ref(text, chance),
  (chance, text) => `[${times(chance.one([1, 40, 3_000]), ref(text, chance)).join(" ")}]`,
  (chance) => `(${"\\000".repeat(1 + chance.below(40))})`,
  (chance) => `(\xfe\xff${chance.one(["\xd8\x00", "\x00", "\xdc\x00\xd8\x00", "\x00\x00\x00a"])})`,
  (chance) => `(${"(".repeat(chance.one([1, 50, 5_000]))}x)`,
  (chance) => `${"[".repeat(chance.one([10, 1_000, 60_000]))}0`,
  (chance) => `${"<</A".repeat(chance.one([10, 1_000, 20_000]))} 0`,
  (chance) => `<${chance.one(["zz", "F", "FEFFD800", "0".repeat(20_001)])}>`,
  (chance) => `/${chance.one(["#00", "#zz", "x".repeat(3_000), "", "Sig", "Btn", "Ch", "Tx"])}`,
  (chance) => `(${"a".repeat(chance.one([10, 100_000]))})`,
  (chance) => `(${nastyText(chance, 300).replaceAll(/[()\\]/g, "")})`,
];

/** Each way in which a form is spoiled: its text with one character a byte goes in and comes out. */
const SPOILINGS: Readonly<Record<string, (text: string, chance: Chance) => string>> = {
  "bytes changed": (text, chance) =>
    Buffer.from(spoiledBytes(Buffer.from(text, "latin1"), [Buffer.from("endobj")], chance)).toString("latin1"),
  "cut off": (text, chance) => text.slice(0, chance.below(text.length)),
  "a place in the list of places": (text, chance) =>
    otherwise(text, /\n\d{10} \d{5} [nf]/g, chance, () => `\n${String(chance.below(text.length * 2)).padStart(10, "0")} 00000 n`),
  "every place moved": (text, chance) => {
    const by = chance.one([-1, 1, 7, 1_000_000]);
    return text.replaceAll(
      /\n(\d{10}) (\d{5}) n/g,
      (_, at: string, more: string) => `\n${String(Math.max(0, Number(at) + by)).padStart(10, "0")} ${more} n`,
    );
  },
  "where the list begins": (text, chance) =>
    otherwise(text, /startxref\s+\d+/g, chance, () => `startxref\n${chance.one([number(chance), String(chance.below(text.length))])}`),
  "a list before that is itself": (text, chance) =>
    otherwise(text, /trailer\s*<</g, chance, () => `trailer\n<</Prev ${/startxref\s+(\d+)/.exec(text)?.[1] ?? "0"}`),
  "how many there are": (text, chance) =>
    otherwise(
      text,
      /\/(Count|Size|Length|N|First|Columns|MaxLen|Ff|Rotate|Predictor) \d+/g,
      chance,
      ([, name = ""]) => `/${name} ${number(chance)}`,
    ),
  "every length": (text, chance) => text.replaceAll(/\/Length \d+/g, () => `/Length ${number(chance)}`),
  "how it is packed": (text, chance) =>
    otherwise(
      text,
      /\/Filter\s*(?:\/\w+|\[[^\]]*\])/g,
      chance,
      () =>
        `/Filter ${chance.one(["/LZWDecode", "/ASCIIHexDecode", "/ASCII85Decode", "/RunLengthDecode", "/DCTDecode", "/JBIG2Decode", "/Crypt", "/Nothing", "null", `[${"/FlateDecode ".repeat(200)}]`])}`,
    ),
  "what is packed": (text, chance) =>
    otherwise(text, /stream\r?\n/g, chance, () => `stream\n${chance.one(["x\x9c\xff\xff", "\0".repeat(50), "x", "\x78\xda\x03\x00"])}`),
  "who is within whom": (text, chance) =>
    otherwise(
      text,
      /\/(Kids|Parent|Fields|Annots|Pages|First|Last|Next)\b\s*(?:\[[^\]]*\]|\d+ 0 R)/g,
      chance,
      ([, name = ""]) =>
        `/${name} ${chance.one([ref(text, chance), `[${ref(text, chance)}]`, "null", "7", "[null 7 (x)]", `[${times(2_000, ref(text, chance)).join(" ")}]`])}`,
    ),
  "all within one": (text, chance) => {
    const one = ref(text, chance);
    return text.replaceAll(/\/(Parent|Kids)\b\s*(?:\[[^\]]*\]|\d+ 0 R)/g, (_, name: string) =>
      name === "Kids" ? `/Kids [${one}]` : `/Parent ${one}`,
    );
  },
  "an object that is itself": (text, chance) =>
    otherwise(text, /\n(\d+) 0 obj\s/g, chance, ([found, own = ""]) => `${found}${own} 0 R\nendobj\n`),
  "an object by another's number": (text, chance) =>
    otherwise(text, /\n(\d+) 0 obj/g, chance, () => `\n${ref(text, chance).replace(/ R$/, "")} obj`),
  "what stands in a field": (text, chance) =>
    otherwise(text, FIELD, chance, ([name]) => `${name} ${chance.one(VALUES)(chance, text)} /Was`),
  "what stands in many fields": (text, chance) => {
    const value = chance.one(VALUES)(chance, "").slice(0, 400);
    return text.replaceAll(/\/V\s*\((?:[^()\\]|\\.)*\)/g, () => `/V ${value}`);
  },
  "locked by what is no lock": (text, chance) =>
    otherwise(
      text,
      /trailer\s*<</g,
      chance,
      () =>
        `trailer\n<</Encrypt <</Filter /Standard /V ${number(chance)} /R ${number(chance)} /Length ${number(chance)} /O (x) /U (${"\\000".repeat(32)}) /P -1>>`,
    ),
  "acts and other forms": (text, chance) =>
    otherwise(
      text,
      /\/AcroForm\b/g,
      chance,
      () =>
        `/OpenAction <</S /JavaScript /JS (for(;;);)>> ${chance.one(["/NeedsRendering true", "/AcroForm <</XFA [(a) 1 0 R]>>", "/Names <</JavaScript 1 0 R>>"])} /AcroForm`,
    ),
  "twice behind one another": (text, chance) => `${text}${text.slice(chance.below(text.length))}`,
};

export const PDF_HOWS: readonly string[] = Object.keys(SPOILINGS);

/** A filled form with one thing of it spoiled, now and then two. */
export const spoiledPdf = ({ pdf, open }: Filled, chance: Chance): Uint8Array => {
  let text = Buffer.from(chance.below(8) === 0 ? pdf : open).toString("latin1");
  for (let left = chance.one([1, 1, 1, 2]); left > 0; left -= 1) text = (SPOILINGS[chance.one(PDF_HOWS)] ?? ((same) => same))(text, chance);
  return new Uint8Array(Buffer.from(text, "latin1"));
};

/** What of its time and memory a worker that reads many files leaves to each. */
const EACH = 100;
const QUICK = 3_000;

/**
 * Reads forms as the program does, but many with one worker, since beginning one takes longer than most files. What is not read soon, or with what the
 * worker was left of its memory, is read once more by `alone`, the reader of the program.
 */
export const quickReader = (address: URL, alone: ReadForm): ReadForm & { readonly close: () => Promise<void> } => {
  let [worker, left]: [Worker | undefined, number] = [undefined, 0];
  const close = async (): Promise<void> => {
    await worker?.terminate();
    worker = undefined;
  };
  const once = (bytes: Uint8Array): Promise<FormRead> =>
    new Promise((done) => {
      worker ??= new Worker(address, { resourceLimits: { maxOldGenerationSizeMb: 512 } }).setMaxListeners(0).on("error", () => undefined);
      const own = worker;
      const gone = (): void => finish({ found: "too slow" });
      const finish = (read: FormRead): void => {
        clearTimeout(timer);
        own.off("message", finish).off("exit", gone);
        done(read);
      };
      const timer = setTimeout(gone, QUICK);
      own.on("message", finish).on("exit", gone);
      own.postMessage(bytes);
    });
  const read: ReadForm = async (bytes) => {
    left -= 1;
    if (left < 0) {
      await close();
      left = EACH;
    }
    const first = await once(bytes);
    if (first.found !== "too slow") return first;
    await close();
    left = EACH;
    return alone(bytes);
  };
  return Object.assign(read, { close });
};

/** The reader of filled forms, with a limit that its own limit of twenty seconds stays under. */
export const filledForms = async (filled: Filled, readForm: ReadForm): Promise<Parser> => ({
  name: "filled forms",
  covers: ["lib/reply/formReader.ts", "lib/reply/fromPdf.ts", "app/visits/[visit]/exchange/[sent]/load/route.ts"],
  limit: 25_000,
  share: 2,
  input: (chance) => {
    const bytes = spoiledPdf(filled, chance);
    return async () => (await replyFromPdf(bytes, filled, readForm)).ok;
  },
});

/** Where the reader's worker lies. */
export const readerAt = (): Promise<URL> => bundled("formReader");
