/** What frames the answers of a message and is none itself: passed over, and shown only to who asks. */
export type Frame = "quoted from an earlier message" | "greeting or signature";

const QUOTED = /^\s*[>|]/;
/** From here on stands the message that is answered, as some programs put it below without a mark at each line. */
const FORMER = /^\s*(?:-{2,}\s*(?:original message|forwarded message)|_{10,}\s*$)/i;
const FORMER_HEAD = [/^\s*\*?from:\*?\s/i, /^\s*\*?(?:sent|date|to|cc|subject):\*?\s/i] as const;
/** "On 3 March 2026, the office wrote:", above quoted lines; some programs break it in two. */
const WROTE = /\s(?:wrote|schrieb|a écrit|escribió|ha scritto|schreef|skrev|pisze|napisał(?:a|\(a\))?)(?:\s[^:]{0,120})?:\s*$/i;
const WROTE_BEGINS = /^\s*(?:on|am|le|el|il|op|den|w dniu)\s.{0,200}$/i;

/** A line that anything is said of is never framed, wherever it stands. */
const REFERENCE = /\b[QRTK]\s?\d{1,4}\b/i;

const LONGEST_GREETING = 60;
const GREETING =
  /^(?:dear|to whom it may concern|sehr geehrte[rn]?|guten (?:tag|morgen)|hallo|good (?:day|morning|afternoon|evening)|hello|hi|greetings|gentlemen|sirs?|madam)\b(?:[^.:;?]|\b(?:mr|mrs|ms|dr|capt|eng)\.)*[,!.]?$/i;

/** The mark of a signature by itself, and what programs of telephones write. */
const MARK = /^\s*--\s*$|^(?:sent from my|sent from outlook|get outlook for|von meinem .{1,30} gesendet)\b/i;
const ENDS = new RegExp(
  `^(?:${[
    "(?:(?:with )?(?:my |our )?(?:best|kind|kindest|warm|warmest) )?(?:regards|wishes)(?: from .{1,40})?",
    "(?:b\\.? ?)?rgds|brgds|br|b\\.r\\.|k\\.?r\\.?",
    "(?:yours )?(?:sincerely|faithfully|truly)(?: yours)?",
    "respectfully(?: yours)?|cheers",
    "mit (?:freundlichen|besten) grü(?:ß|ss)en|mfg|beste grüße",
    "(?:bien )?cordialement|(?:un )?saludos?(?: cordial(?:es)?)?|atentamente|cordiali saluti",
    "(?:met )?vriendelijke groet(?:en)?|(?:med )?vennlig hilsen|mvh|med vänliga hälsningar",
    "pozdrawiam|z poważaniem",
  ].join("|")})\\s*[,.!]*$`,
  "i",
);
/** Said at the end, and at the beginning too. */
const THANKS = /^(?:many )?(?:thanks|thank you)(?: in advance| very much)?(?: and (?:best|kind) regards)?\s*[,.!]*$/i;
/** What a message says at its beginning of the letter that it answers and of itself, which answers nothing. */
const OPENS = new RegExp(
  `^(?:${[
    "(?:(?:many |with )?thanks|(?:we )?thank you)(?: very much)? for (?:your|the) (?:letter|(?:e-?)?mail|message|request|questions)\\b[^.;:?]{0,60}",
    "(?:please )?(?:find|see)(?: below| here)? (?:our|the) (?:answers?|reply|replies)(?: to (?:your|the) (?:letter|questions?)(?: \\d+)?)?(?: below| here)?",
    "(?:here|below) (?:are|is) (?:our|the) (?:answers?|reply|replies)|our (?:answers?|reply|replies)(?: are| is)?(?: below| here)?",
  ].join("|")})\\s*[,.:!]*$`,
  "i",
);
/** Telephone, address or place on the web, alone or behind its name. */
const CONTACT =
  /^(?:(?:tel|phone|telephone|mob|mobile|cell|fax|e-?mail|mail|web|skype|whatsapp|inmarsat|sat|direct|office|m|t|e|p|f)\b[\s.:|]*)?(?:\+?[\d\s()./-]{7,}|[^\s@]+@[^\s@]+\.[^\s@]+|(?:https?:\/\/|www\.)\S+)$/i;
const NOTICE =
  /\b(?:intended (?:only |solely )?for|intended recipient|confidential(?:ity)?|legally privileged|received this (?:e-?mail|message|transmission|communication)|disclaimer|consider the environment|before printing)\b/i;

/** Longer than this a line of a signature is none; nor is a sentence, which may matter. */
const LONGEST_IN_SIGNATURE = 100;
const WORDS_OF_A_SENTENCE = 6;

/** Ends in two languages may stand on one line: "Best regards / Mit freundlichen Grüßen". */
const ends = (line: string): boolean => line.split(/\s*[/|]\s*/).every((part) => ENDS.test(part));

const isSentence = (line: string): boolean => /[.!?]$/.test(line) && line.split(/\s+/).length >= WORDS_OF_A_SENTENCE;

const isFormerHead = (lines: readonly string[], place: number): boolean =>
  FORMER.test(lines[place] ?? "") ||
  (FORMER_HEAD[0].test(lines[place] ?? "") && lines.slice(place + 1, place + 4).some((line) => FORMER_HEAD[1].test(line)));

/** Whether a line tells who wrote what is quoted below it, alone or with the next. */
const tellsWriter = (lines: readonly string[], place: number): boolean => {
  const [before = "", line = "", next = ""] = [lines[place - 1], lines[place], lines[place + 1]];
  const short = (one: string): string => one.slice(0, 300);
  if (WROTE_BEGINS.test(line) && (WROTE.test(short(line)) || (next.length < 200 && WROTE.test(` ${short(next)}`)))) return true;
  return line.length < 200 && WROTE.test(` ${short(line)}`) && WROTE_BEGINS.test(before);
};

/** The lines of a notice that lawyers have put below every message: its paragraph from where it begins on. */
const noticesIn = (lines: readonly string[]): ReadonlySet<number> => {
  const found = new Set<number>();
  for (const [place, line] of lines.entries())
    if (line.trim() !== "" && !REFERENCE.test(line) && (NOTICE.test(line) || found.has(place - 1))) found.add(place);
  return found;
};

/**
 * What each line frames a message with, by its place; undefined for what has to be read. A line that names a question, request or test is
 * read in any case, unless it is quoted. `writer` is who wrote it: his name alone on a line begins his signature.
 */
export const framesIn = (lines: readonly string[], writer: string): readonly (Frame | undefined)[] => {
  const former = lines.findIndex((_, place) => isFormerHead(lines, place));
  const own = former < 0 ? lines : lines.slice(0, former);
  const refers = (line: string): boolean => REFERENCE.test(line) && !QUOTED.test(line);
  const last = own.findLastIndex(refers);
  const first = own.findIndex(refers);
  const notices = noticesIn(own);
  const name = writer.trim().toLowerCase();
  let signed = false;
  return lines.map((text, place): Frame | undefined => {
    if (QUOTED.test(text) || (former >= 0 && place >= former)) return "quoted from an earlier message";
    const line = text.trim();
    if (refers(line)) {
      signed = false;
      return undefined;
    }
    if (tellsWriter(lines, place)) return "quoted from an earlier message";
    const before = first < 0 || place < first;
    if (before && !signed && ((line.length <= LONGEST_GREETING && GREETING.test(line)) || OPENS.test(line))) return "greeting or signature";
    const short = line.length <= LONGEST_IN_SIGNATURE;
    const begins = short && (MARK.test(text) || ends(line));
    const atEnd = place > last && short && (THANKS.test(line) || CONTACT.test(line) || (name !== "" && line.toLowerCase() === name));
    signed ||= begins || atEnd;
    return notices.has(place) || (signed && short && !isSentence(line)) ? "greeting or signature" : undefined;
  });
};
