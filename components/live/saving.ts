const TYPING_PAUSE = 1200;
const CHOICE_PAUSE = 300;
const TRY_AGAIN = 15_000;

/** What is said beside a form where the office did not take what stands in it, and where it was not reached. */
interface Words {
  readonly refused: string;
  readonly unreached: string;
}

/**
 * Saves a form by itself while it is filled in, over a line that may be slow or gone: what is not taken yet is tried again, and the page says which
 * it is. What was taken the office words itself. Without it forms work as well.
 */
export const savesIn = (form: HTMLFormElement, address: string, { refused, unreached }: Words): void => {
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
      // The office's disk or database is away: as good as not reached, and tried again by itself.
      if (answer.status === 503) throw new Error("away");
      const kept: unknown = answer.ok ? await answer.json() : null;
      tell(typeof kept === "object" && kept !== null && "told" in kept ? String(kept.told) : refused);
    } catch {
      waiting = true;
      tell(unreached);
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
