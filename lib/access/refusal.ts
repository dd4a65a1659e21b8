/** Text that stands in a page as it is, and means nothing there. */
export const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);

/** A page of its own that says that something was not taken, with the way back. */
export const refusalPage = (words: string, back: string): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>This was not taken – Forehail</title></head><body><main><h1>This was not taken</h1><p>${escaped(words.charAt(0).toUpperCase() + words.slice(1))}.</p><p>Nothing was changed. <a href="${escaped(back)}">Back to the page</a></p></main></body></html>`;

/** The path of the page that a form stood on, by what its browser says. */
export const pageBefore = (referer: string | null): string => {
  if (referer === null || !URL.canParse(referer)) return "/";
  const { pathname, search } = new URL(referer);
  return `${pathname}${search}`;
};
