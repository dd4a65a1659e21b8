import type { ReactNode } from "react";

/** What may be wider than the screen: it scrolls by itself, by keyboard too. */
export const Scroll = ({ label, children }: { readonly label: string; readonly children: ReactNode }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: whoever has no mouse scrolls it with the arrow keys
  <section className="scroll" aria-label={label} tabIndex={0}>
    {children}
  </section>
);
