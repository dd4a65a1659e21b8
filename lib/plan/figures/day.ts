import type { DecidedVisit } from "../../decide/visit.ts";
import { permittedMinutes } from "../../figures/exposure.ts";
import { resolve } from "../../model/fact.ts";
import { plantAt } from "../../model/facts/plant.ts";
import { PRIME_MOVER, STEAM } from "../../model/facts/set.ts";
import { startAt } from "../../model/facts/starting.ts";
import type { ReadVisit } from "../../model/read.ts";
import { basis } from "../../rulebook/basis.ts";
import { type Effort, effortOnSet } from "../effort.ts";
import type { Plan, PlanFigure } from "../schema.ts";
import { commonStarts, storedStarts } from "./emergency.ts";
import { rounded } from "./input.ts";

type Warning = Plan["warnings"][number];

/** The figure of all starts that the planned tests of a set want, whatever fits into the days. */
export const STARTS_OF_DAY = "starts of the day";

const startsFigure = ({ starts, stops }: Effort): readonly PlanFigure[] =>
  starts === 0
    ? []
    : [
        {
          name: STARTS_OF_DAY,
          value: starts,
          unit: "",
          note: `with the first start; ${stops} of the stops are hot ones, each to be followed by what the maker asks (cooling-down, prelubrication, barring)`,
          basis: [basis.practice],
        },
      ];

/** What the store of a set of its own gives; null where it has none of its own or that is not known. */
const ownStore = (read: ReadVisit, set: number): ReturnType<typeof storedStarts> => {
  const answer = (template: string): string | number | undefined =>
    read.answers.get(resolve(template, set, read.sets[set]?.sisters ?? "A"));
  const own = read.visit.sets[set]?.role === "emergency" || answer(startAt.store) === "its own";
  return own ? storedStarts({ answer, visit: read.visit }) : null;
};

/** Starting energy of one set. */
export const setFigures = (decided: DecidedVisit, read: ReadVisit, set: number): readonly PlanFigure[] => {
  const effort = effortOnSet(decided, read, set);
  const store = ownStore(read, set);
  return [
    ...startsFigure(effort),
    ...(store === null
      ? []
      : [{ name: "starts in its own store", value: store.starts, unit: "", note: store.how, basis: [basis.starts, basis.arithmetic] }]),
  ];
};

/** Whether a set is started from the common store, as far as is known. */
const isOnCommon = (read: ReadVisit, set: number): boolean => {
  const own = read.answers.get(`/sets/${set}/start/store`) === "its own";
  // A turbine is started by its steam and takes nothing from a store.
  const bySteam = read.answers.get(PRIME_MOVER.replace("*", String(set))) === STEAM;
  return read.visit.sets[set]?.role === "ship service" && !own && !bySteam;
};

const onCommon = (decided: DecidedVisit, read: ReadVisit): number =>
  read.visit.sets.reduce((total, _, set) => (isOnCommon(read, set) ? total + effortOnSet(decided, read, set).starts : total), 0);

/** What belongs to the whole visit: the common starting store and the noise. */
export const visitFigures = (decided: DecidedVisit, read: ReadVisit): readonly PlanFigure[] => {
  const store = commonStarts(read.answers);
  const wanted = onCommon(decided, read);
  const noise = read.answers.get(plantAt.noise);
  const [osha, niosh] =
    typeof noise === "number" ? [permittedMinutes(noise, "OSHA"), permittedMinutes(noise, "NIOSH")] : [undefined, undefined];
  return [
    // A common store from which no set is started bounds nothing.
    ...(store === null || !read.visit.sets.some((_, set) => isOnCommon(read, set))
      ? []
      : [
          {
            name: "starts in the common store",
            value: store.starts,
            unit: "",
            note: `${store.how}; the tests of all sets on it want ${wanted}, recharging between not counted`,
            basis: [basis.starts, basis.arithmetic],
          },
        ]),
    ...(osha?.ok === true && niosh?.ok === true && typeof noise === "number"
      ? [
          {
            name: "stay beside a running set without protection",
            value: rounded(Math.min(osha.value, niosh.value), 0),
            unit: "min",
            note: `at ${noise} dB(A): ${rounded(osha.value, 0)} min by 29 CFR 1910.95, ${rounded(niosh.value, 0)} min by NIOSH; hearing protection above 85 dB(A)`,
            basis: [basis.noise, basis.noiseNiosh, basis.noiseShips],
          },
        ]
      : []),
  ];
};

/** Told to the ship too, which fills them: stores that do not hold the starts of the day: to be recharged between, or the day divided. */
export const storeWarnings = (decided: DecidedVisit, read: ReadVisit): readonly Warning[] => {
  const common = commonStarts(read.answers);
  const wanted = onCommon(decided, read);
  const own = read.visit.sets.flatMap(({ name }, set): readonly Warning[] => {
    const store = ownStore(read, set);
    const { starts } = effortOnSet(decided, read, set);
    const second = read.answers.get(startAt.secondStarts.replace("*", String(set)));
    const held = (store?.starts ?? 0) + (typeof second === "number" ? second : 0);
    return store !== null && starts > held
      ? [
          {
            at: `/sets/${set}/start`,
            text: `${name}: the planned tests want ${starts} starts, its ${typeof second === "number" ? `stores give ${store.starts} and ${second}` : `store gives ${held}`}. Charger or compressor runs between the tests, so that the store never comes under its floor.`,
            basis: [basis.starts],
          },
        ]
      : [];
  });
  return [
    ...(common !== null && wanted > common.starts
      ? [
          {
            at: "/plant/start",
            text: `The planned tests want ${wanted} starts from the common store, which gives ${common.starts}. The compressor runs between the tests, so that the store never comes under its floor.`,
            basis: [basis.starts],
          },
        ]
      : []),
    ...own,
  ];
};
