/**
 * The only script of a page of questions before the first sign of life: it then fetches the page's own. Reading a page, and pressing its
 * links and buttons, costs no script; what is typed before the scripts are there is taken over by them (`typedInPage`).
 */
const FIRST_SIGNS = ["pointermove", "pointerdown", "keydown", "focusin", "touchstart"] as const;

const scripts = (document.currentScript?.dataset["scripts"] ?? "").split(" ");

const wake = (): void => {
  for (const sign of FIRST_SIGNS) window.removeEventListener(sign, wake);
  for (const src of scripts) {
    const script = document.createElement("script");
    script.src = src;
    document.head.append(script);
  }
};

for (const sign of FIRST_SIGNS) window.addEventListener(sign, wake, { passive: true });
