import { escaped, ownPage } from "./ownPage.ts";

/** A page of its own that says that something was not taken, with the way back. */
export const refusalPage = (words: string, back: string): string =>
  ownPage(
    "This was not taken",
    `<p>${escaped(words.charAt(0).toUpperCase() + words.slice(1))}.</p><p>Nothing was changed. <a href="${escaped(back)}">Back to the page</a></p>`,
  );

/** The path of the page that a form stood on, by what its browser says. */
export const pageBefore = (referer: string | null): string => {
  if (referer === null || !URL.canParse(referer)) return "/";
  const { pathname, search } = new URL(referer);
  return `${pathname}${search}`;
};
