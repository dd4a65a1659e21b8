import { PARTS, type Part, type PartState } from "../../lib/rulebook/types.ts";

const PART_WORDS: Readonly<Record<Part, string>> = { sensing: "Sensing", wiring: "Wiring", logic: "Logic", final: "Final" };

export const STATE_WORDS: Readonly<Record<PartState, string>> = {
  "set point": "proven",
  "running value": "running value only",
  movement: "seen to move",
  open: "open",
};

const SHORT: Readonly<Record<PartState, string>> = { "set point": "●", "running value": "◐", movement: "◐", open: "○" };

/** What a loop proves, in a sentence. */
export const stripWords = (proves: Readonly<Record<Part, PartState>>): string =>
  PARTS.every((part) => proves[part] === "set point")
    ? "whole loop proven"
    : PARTS.map((part) => `${PART_WORDS[part].toLowerCase()} ${STATE_WORDS[proves[part]]}`).join(", ");

interface Props {
  readonly proves: Readonly<Record<Part, PartState>>;
  /** With the words of every part beneath it. */
  readonly full?: boolean;
  /** The way is not settled: what it would prove, drawn lighter. */
  readonly would?: boolean;
}

/** The loop in its four parts: filled where proven at set point, hatched where at running value only or seen to move, empty where open. */
export const LoopStrip = ({ proves, full = false, would = false }: Props) => (
  <span className={`loop${full ? " full" : ""}${would ? " would" : ""}`}>
    {PARTS.map((part) => (
      <span key={part} className={`part ${proves[part].replace(" ", "-")}`}>
        {full ? (
          <>
            <span className="segment" aria-hidden="true" />
            <span className="part-name">{PART_WORDS[part]}</span> <span className="part-state">{STATE_WORDS[proves[part]]}</span>
          </>
        ) : (
          <span className="segment" aria-hidden="true">
            {SHORT[proves[part]]}
          </span>
        )}
      </span>
    ))}
    {full ? null : <span className="unseen">{would ? `would prove: ${stripWords(proves)}` : stripWords(proves)}</span>}
  </span>
);

/** What the fillings mean, in one line, where strips stand without words. */
export const StripKey = () => (
  <p className="key">
    <span>Sensing, wiring, logic, final element:</span>
    {(["set point", "running value", "open"] as const).map((state) => (
      <span key={state} className={state.replace(" ", "-")}>
        <span className="segment" aria-hidden="true" />
        {state === "running value" ? "in part" : STATE_WORDS[state]}
      </span>
    ))}
    <span className="would">
      <span className="set-point">
        <span className="segment" aria-hidden="true" />
      </span>
      as proposed
    </span>
  </p>
);
