/**
 * Saves a page of the reply while it is filled in, over a line that may be slow or gone: what is not taken yet is tried again, and the page
 * says which it is. Without it the page works as well.
 */
const TYPING_PAUSE = 1500;
const CHOICE_PAUSE = 400;
const TRY_AGAIN = 15_000;

const savesIn = (form: HTMLFormElement, address: string): void => {
  const told = form.querySelector(".saved");
  let timer: ReturnType<typeof setTimeout> | undefined;
  let waiting = false;
  let sent = false;
  const tell = (words: string): void => {
    if (told !== null) told.textContent = words;
  };
  const later = (pause: number): void => {
    clearTimeout(timer);
    timer = setTimeout(() => void save(false), pause);
  };
  const save = async (leaving: boolean): Promise<void> => {
    clearTimeout(timer);
    if (!waiting || sent) return;
    waiting = false;
    const body = new URLSearchParams();
    for (const [name, value] of new FormData(form)) if (typeof value === "string") body.append(name, value);
    try {
      const answer = await fetch(address, { method: "POST", body, keepalive: leaving, headers: { accept: "application/json" } });
      const kept: unknown = answer.ok ? await answer.json() : null;
      if (typeof kept === "object" && kept !== null && "savedAt" in kept) {
        const faults = "faults" in kept && Array.isArray(kept.faults) ? kept.faults.length : 0;
        tell(
          `Saved at ${String(kept.savedAt).slice(11, 16)} UTC.${faults === 0 ? "" : " Something on this page needs a look: go on, and it is told."}`,
        );
      } else
        tell("Not saved: the reply was confirmed or replaced meanwhile, or the link has run out. Go on, and the next page tells which.");
    } catch {
      waiting = true;
      tell("Not saved yet: no connection. Leave this page open; it is tried again by itself.");
      later(TRY_AGAIN);
    }
  };
  form.addEventListener("input", ({ target }) => {
    waiting = true;
    const chosen = target instanceof HTMLSelectElement || (target instanceof HTMLInputElement && target.type === "radio");
    later(chosen ? CHOICE_PAUSE : TYPING_PAUSE);
  });
  form.addEventListener("submit", () => {
    sent = true;
    tell("Sending …");
  });
  window.addEventListener("online", () => void save(false));
  window.addEventListener("pagehide", () => void save(true));
  // Shown again, after a line that broke or from the browser's memory, the form can be sent again.
  window.addEventListener("pageshow", () => {
    sent = false;
  });
};

for (const form of document.querySelectorAll<HTMLFormElement>("form[data-saves]")) savesIn(form, form.dataset["saves"] ?? "");

export {};
