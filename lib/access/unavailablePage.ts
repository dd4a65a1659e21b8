import { escaped, ownPage } from "./ownPage.ts";

/** Why nothing can be kept now, in words for whoever sent something. */
export const WHY = {
  full: "the disk of the office is full",
  "read only": "the disk or the database of the office can only be read now",
  busy: "the office's database is held by something else",
  "not reached": "the office's database cannot be reached",
} as const;

export type Why = keyof typeof WHY;

/** What stood in a form: what can be sent again, and what cannot be held for it. */
export interface Typed {
  /** Where it was sent to. */
  readonly action: string;
  readonly fields: readonly (readonly [name: string, text: string])[];
  readonly passwords: boolean;
  readonly files: boolean;
}

/** So many seconds are to be waited before it is tried again. */
export const TRY_AFTER = 30;

const notHeld = ({ passwords, files }: Typed): string =>
  [...(files ? ["the file that you chose"] : []), ...(passwords ? ["the password"] : [])].join(" and ");

/** The form with everything that was typed, and the button that sends it again; only the way back where a part of it is not held. */
const againOf = (typed: Typed, back: string): string => {
  const missing = notHeld(typed);
  const way = `<a href="${escaped(back)}">Back to the page</a>`;
  if (missing !== "")
    return `<p>${escaped(missing.charAt(0).toUpperCase() + missing.slice(1))} cannot be held here: go back and give it again. ${way}</p>`;
  const fields = typed.fields.map(([name, text]) => `<input type="hidden" name="${escaped(name)}" value="${escaped(text)}">`).join("");
  return `<p>What you typed is still on this page. Leave it open, and press the button in a minute.</p>
<form method="post" action="${escaped(typed.action)}">${fields}<button type="submit">Send again</button></form><p>${way}</p>`;
};

/** The page in place of one that could not be answered: what is wrong, that nothing was kept, and what to do. */
export const unavailablePage = (why: Why, back: string, typed: Typed | null): string =>
  ownPage(
    "This cannot be answered now",
    `<p>For now ${escaped(WHY[why])}. ${typed === null ? "What was saved before is kept." : "Take it that nothing of what you sent was kept; what was saved before is, and what is sent again is kept once."} Whoever runs the office has to look at it;
it goes on by itself once that is done.</p>
${typed === null ? `<p><a href="${escaped(back)}">Try again</a></p>` : againOf(typed, back)}`,
  );

/** The same for a script that keeps a form: it tries again by itself. */
export const unavailableWords = (why: Why): string => `not saved: for now ${WHY[why]}`;
