"use client";

import { type FormEvent, useEffect, useRef, useState } from "react";
import { type DayTexts, dayTyped, MINUTES, PIN, PIN_TIME } from "../../lib/flow/dayForm.ts";
import { askedOf } from "../../lib/plan/day/asked.ts";
import { dayOf } from "../../lib/plan/day/planDay.ts";
import { DayForm, type DayFormProps } from "./DayForm.tsx";
import { DayShown } from "./DayShown.tsx";

/** The form as it is kept, with what it comes alive by. */
interface Props extends Omit<DayFormProps, "told" | "onInput"> {
  /** The script that waits for the first sign of life. */
  readonly wake: string;
  /** First day of the visit. */
  readonly first: string;
}

/** Changes that come together, as of a form put back, are followed once. */
const QUIET = 5;

/** How long after the scripts have come the day is put in order for nothing, so that the first change is followed as fast as later ones; milliseconds. */
const WARM = [200, 500, 800] as const;

/** Only what is asked of times is followed here; hours and people change what there is to be put in order, which the office works out. */
const followed = (name: string): boolean => [MINUTES, PIN, PIN_TIME].some((prefix) => name.startsWith(prefix));

const textsIn = (form: HTMLFormElement): DayTexts =>
  Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]));

/** The order of the day with the form that arranges it: with JavaScript it follows each change of a time at once, without it when it is kept. */
export const DayPlanner = ({ action, hidden, setup, plan, texts, faults, first, wake }: Props) => {
  const [shown, show] = useState(plan);
  const [told, tell] = useState("");
  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const follow = (form: HTMLFormElement, name: string): void => {
    const typed = dayTyped(textsIn(form));
    if (!typed.ok) {
      tell(typed.faults.map(({ says }) => says).join(". "));
      return;
    }
    if (!followed(name)) {
      tell("Keep it to see the day with this.");
      return;
    }
    show(dayOf(setup, askedOf(typed.value, first)));
    tell("This is the day as changed; keep it to make it so.");
  };
  const place = useRef<HTMLDivElement>(null);
  // The scripts come with the first sign of life: what was typed before they were there is followed then.
  const early = useRef(() => {
    const form = place.current?.querySelector("form");
    if (!form) return;
    const typed = textsIn(form);
    const changedEarly = Object.keys(typed).find((name) => followed(name) && typed[name] !== (texts[name] ?? ""));
    if (changedEarly !== undefined) follow(form, changedEarly);
  });
  useEffect(() => early.current(), []);
  useEffect(() => {
    const warming = WARM.map((wait) => setTimeout(() => dayOf(setup), wait));
    return () => warming.forEach(clearTimeout);
  }, [setup]);
  const changed = ({ currentTarget, target }: FormEvent<HTMLFormElement>): void => {
    const name = target instanceof HTMLInputElement || target instanceof HTMLSelectElement ? target.name : "";
    clearTimeout(waiting.current);
    waiting.current = setTimeout(() => follow(currentTarget, name), QUIET);
  };
  return (
    <div ref={place} data-live={wake}>
      <DayForm action={action} hidden={hidden} setup={setup} plan={shown} texts={texts} faults={faults} told={told} onInput={changed} />
      <DayShown plan={shown} />
    </div>
  );
};
