import { savesIn } from "./saving.ts";

/** Saves a page of the vessel's reply while it is filled in. */
for (const form of document.querySelectorAll<HTMLFormElement>("form[data-saves]"))
  savesIn(form, form.dataset["saves"] ?? "", {
    refused: "Not saved: the reply was confirmed or replaced meanwhile, or the link has run out. Go on, and the next page tells which.",
    unreached: "Not saved yet: no connection. Leave this page open; it is tried again by itself.",
  });
