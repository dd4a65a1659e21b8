import { escaped, OWN_END, ownHead } from "../../lib/access/ownPage.ts";
import { WHY, type Why } from "../../lib/access/unavailablePage.ts";

/** The pieces of a page that is sent while something is being laid out, one after the other. */
export interface WaitingPieces {
  readonly head: string;
  /** So many papers come before. */
  readonly before: (count: number) => string;
  /** Nothing is new. */
  readonly still: string;
  /** It is done: where to go on. */
  readonly on: (address: string) => string;
  /** It was not done, and why, where the database is away. */
  readonly failed: (why: Why | null) => string;
}

const wordsFor = (count: number): string => {
  if (count === 0) return "It is being laid out now.";
  return count === 1 ? "One paper is laid out before it." : `${count} papers are laid out before it.`;
};

/** `back` leads back to where it was asked for. */
export const waitingPieces = (back: string): WaitingPieces => ({
  head: `${ownHead("The paper waits its turn")}<p>Papers are laid out one after the other. This page goes on by itself; what you asked for is done even if you leave it.</p><div role="log">
`,
  before: (count) => `<p>${wordsFor(count)}</p>\n`,
  still: "<!-- still at it -->\n",
  on: (address) =>
    `<p>It is done. <a href="${escaped(address)}">Go on</a></p></div><meta http-equiv="refresh" content="0;url=${escaped(address)}">${OWN_END}`,
  failed: (why) =>
    `<p>${why === null ? "Something went wrong in the program" : `For now ${escaped(WHY[why])}`}. <a href="${escaped(back)}">Back</a>, and look whether it was done before you ask again.</p></div>${OWN_END}`,
});
