import type { Known, Scan } from "./types.ts";

/** What scanners find that is no fault, or is borne, and why. What stands here answers every finding that its form fits. */
export const ANSWERS: readonly Known[] = [
  {
    finding: /^200 for \/ready \(\d+ bytes\)$/,
    answer:
      "meant so: the program itself says whether it is ready, to whoever runs it; nginx by the recipe shuts it off from outside (tests/service)",
  },
  {
    finding: /^http-csrf: Found the following possible CSRF vulnerabilities:$/,
    answer: "the head of a list: each form of it is a finding of its own, and answered as such",
  },
  {
    finding: /^http-csrf: Form action: \/(?:visits|rulebook)$/,
    answer: "a search, of visits or of the rulebook: it is asked with GET and changes nothing, so it needs no token",
  },
  {
    finding: /X-Frame-Options is not set/,
    answer: "obsolete: `frame-ancestors` of the content security policy says the same (ASVS 3.4.6)",
  },
  {
    finding: /X-XSS-Protection is not set/,
    answer:
      "no browser heeds it any more, and where one did it could be used against a page; the content security policy stands in its place",
  },
];

export const answerOf = (finding: string, known: readonly Known[] = ANSWERS): string | null =>
  known.find((one) => one.finding.test(finding))?.answer ?? null;

/** Findings that nobody has answered. Pure. */
export const openIn = (scans: readonly Scan[], known: readonly Known[] = ANSWERS): readonly string[] =>
  scans.flatMap(({ findings }) => findings.filter((finding) => answerOf(finding, known) === null));
