"use client";

import { type FormEvent, type PointerEvent, useDeferredValue, useEffect, useRef, useState } from "react";
import type { DayFormat } from "../../lib/drawing/dayAxis.ts";
import { type DayTexts, dayTyped, MINUTES, PIN, PIN_TIME } from "../../lib/flow/dayForm.ts";
import { askedOf } from "../../lib/plan/day/asked.ts";
import { dayOf } from "../../lib/plan/day/planDay.ts";
import { DayForm, type DayFormProps } from "./DayForm.tsx";
import { DayShown } from "./DayShown.tsx";
import { draggedTo, type Held, heldAt, isMoved } from "./drag.ts";

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

/** Only what is asked of times is followed here, and what is made short first; hours and people change what there is to be put in order, which the office works out. */
const followed = (name: string): boolean => name === "wish" || [MINUTES, PIN, PIN_TIME].some((prefix) => name.startsWith(prefix));

/** On a screen like this the drawing for telephones is shown: as in app/style.css. */
const NARROW = "(max-width: 40rem)";

/** The drawing that this screen has no room for. */
const useUnseen = (): DayFormat => {
  const [unseen, set] = useState<DayFormat>("telephone");
  useEffect(() => {
    const narrow = matchMedia(NARROW);
    const follow = (): void => set(narrow.matches ? "page" : "telephone");
    follow();
    narrow.addEventListener("change", follow);
    return () => narrow.removeEventListener("change", follow);
  }, []);
  return unseen;
};

const textsIn = (form: HTMLFormElement): DayTexts =>
  Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]));

/** The order of the day with the form that arranges it: with JavaScript it follows each change of a time at once, without it when it is kept. */
export const DayPlanner = ({ action, hidden, setup, plan, texts, faults, first, wake }: Props) => {
  const [shown, show] = useState(plan);
  // The day that is to be seen comes first; the form's times and the drawing for the other screen follow.
  const later = useDeferredValue(shown);
  const unseen = useUnseen();
  const [told, tell] = useState("");
  const waiting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const follow = (form: HTMLFormElement, name: string): void => {
    const typed = dayTyped(textsIn(form));
    if (!typed.ok) {
      tell(typed.faults.map(({ says }) => says).join(". "));
      return;
    }
    if (!followed(name)) {
      tell("The day below is without this change: keep it to see the day with it.");
      return;
    }
    show(dayOf({ ...setup, wish: typed.value.wish }, askedOf(typed.value, first)));
    tell("This is the day as changed; keep it to make it so.");
  };
  const place = useRef<HTMLDivElement>(null);
  // The scripts come with the first sign of life: what was typed before they were there is followed then.
  const early = useRef(() => {
    const form = place.current?.querySelector("form");
    if (!form) return;
    const typed = textsIn(form);
    const changedEarly = Object.keys(typed).filter((name) => !(name in hidden) && typed[name] !== (texts[name] ?? ""));
    // What cannot be followed is told, whatever else was typed.
    const name = changedEarly.find((one) => !followed(one)) ?? changedEarly[0];
    if (name !== undefined) follow(form, name);
  });
  useEffect(() => early.current(), []);
  const [alive, live] = useState(false);
  useEffect(() => live(true), []);
  useEffect(() => {
    const warming = WARM.map((wait) => setTimeout(() => dayOf(setup), wait));
    return () => warming.forEach(clearTimeout);
  }, [setup]);
  const changed = ({ currentTarget, target }: FormEvent<HTMLFormElement>): void => {
    const name = target instanceof HTMLInputElement || target instanceof HTMLSelectElement ? target.name : "";
    clearTimeout(waiting.current);
    waiting.current = setTimeout(() => follow(currentTarget, name), QUIET);
  };
  const held = useRef<Held | undefined>(undefined);
  const dragged = useRef(false);
  const hold = (event: PointerEvent<HTMLDivElement>): void => {
    dragged.current = false;
    held.current = heldAt(event.target, event, shown);
  };
  const drag = ({ clientX, currentTarget, pointerId }: PointerEvent<HTMLDivElement>): void => {
    if (held.current === undefined || !isMoved(held.current, clientX)) return;
    // From here on only: what is captured before is no press on a link any more.
    if (!dragged.current) currentTarget.setPointerCapture(pointerId);
    dragged.current = true;
    held.current.bar.style.translate = `${clientX - held.current.x}px`;
  };
  /** A bar let go elsewhere is a time asked for: it goes into its fields, from where it is followed like one that was typed. */
  const letGo = ({ clientX }: PointerEvent<HTMLDivElement>): void => {
    const bar = held.current;
    held.current = undefined;
    if (bar === undefined || !dragged.current) return;
    bar.bar.style.translate = "";
    const form = place.current?.querySelector("form");
    const [kind, time] = [PIN, PIN_TIME].map((prefix) => form?.elements.namedItem(prefix + bar.line.id));
    if (!form || !(kind instanceof HTMLSelectElement) || !(time instanceof HTMLInputElement)) return;
    kind.value = "begins at";
    time.value = draggedTo(bar, clientX, first);
    follow(form, time.name);
  };
  const cancel = (): void => {
    if (held.current !== undefined) held.current.bar.style.translate = "";
    held.current = undefined;
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: what is dragged is asked for in the form as well, by keyboard
    <div
      ref={place}
      data-live={wake}
      onPointerDown={hold}
      onPointerMove={drag}
      onPointerUp={letGo}
      onPointerCancel={cancel}
      onDragStart={(event) => event.preventDefault()}
      onClickCapture={(event) => {
        // A bar that was dragged leads nowhere.
        if (dragged.current) event.preventDefault();
      }}
    >
      <DayForm action={action} hidden={hidden} setup={setup} plan={later} texts={texts} faults={faults} told={told} onInput={changed} />
      {alive ? <p className="hint">With a mouse, a task can be dragged along its lane to the time that is asked for it.</p> : null}
      <DayShown plan={shown} unseen={{ format: unseen, plan: later }} />
    </div>
  );
};
