/**
 * Keeps what is typed in a form while it is typed, for the same person to find again; it is taken over when the form is sent. For forms
 * that name this script; without it they work as well.
 */
const TYPING_PAUSE = 1200;
const CHOICE_PAUSE = 250;

const keepIn = (form: HTMLFormElement): void => {
  const told = form.querySelector(".saved");
  const tell = (words: string): void => {
    if (told !== null) told.textContent = words;
  };
  let timer: ReturnType<typeof setTimeout> | undefined;
  let waiting = false;
  let sent = false;
  const keep = async (leaving: boolean): Promise<void> => {
    clearTimeout(timer);
    if (!waiting || sent) return;
    waiting = false;
    const body = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === "string") body.append(name, value);
    try {
      const answer = await fetch(form.action, { method: "POST", body, keepalive: leaving, headers: { accept: "application/json" } });
      const kept: unknown = answer.ok ? await answer.json() : null;
      if (typeof kept === "object" && kept !== null && "keptAt" in kept)
        tell(`Kept as typed at ${String(kept.keptAt).slice(11, 19)} UTC; it counts once it is saved.`);
      else tell("Not kept: you are signed out, or the page is too old. Press the button, sign in, and what you typed is here again.");
    } catch {
      waiting = true;
      tell("Not kept yet: the office cannot be reached. It is tried again with your next change.");
    }
  };
  form.addEventListener("input", ({ target }) => {
    waiting = true;
    clearTimeout(timer);
    timer = setTimeout(() => void keep(false), target instanceof HTMLSelectElement ? CHOICE_PAUSE : TYPING_PAUSE);
  });
  form.addEventListener("submit", () => {
    sent = true;
  });
  window.addEventListener("pagehide", () => void keep(true));
  // Shown again from the browser's memory, the form can be sent again.
  window.addEventListener("pageshow", () => {
    sent = false;
  });
};

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-script]")) keepIn(form);
