import { savesIn } from "./saving.ts";

/** Keeps what is typed in forms that name this script, for the same person to find again; it is taken over when the form is sent. */
for (const form of document.querySelectorAll<HTMLFormElement>("form[data-script]"))
  savesIn(form, form.action, {
    refused: "Not kept: you are signed out, or the page is too old. Press the button, sign in, and what you typed is here again.",
    unreached: "Not kept yet: the office cannot be reached. It is tried again by itself.",
  });
