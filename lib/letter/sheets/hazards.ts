import type { DayPlan } from "../../plan/day/types.ts";
import type { Plan } from "../../plan/schema.ts";
import { SAY } from "../catalogue.ts";
import { refRange } from "../words.ts";
import { BOX, type SheetBlock, tableOf } from "./blocks.ts";
import { isOnDay } from "./order.ts";

type Group = keyof typeof SAY.carry.hazards;

/** Which cautions tell of which hazard; those of none keep to the order of the acts or to what is put back. */
export const HAZARDS: Readonly<Record<Group, readonly string[]>> = {
  blind: ["blind-channel", "panel-dead", "cooling-by-hand"],
  parts: ["unexpected-start", "starts-by-itself", "flywheel", "turning-shaft"],
  speed: ["overspeed-people", "overspeed-excursion", "turbine-speed", "oil-injection-after", "full-fuel"],
  pressure: ["pressurised-oil", "never-hot-well", "drained-hold-point", "hot-sensor"],
  fire: ["no-leak", "no-open-bath", "crankcase-shut", "fuel-poured", "fuel-vented", "oil-not-gas"],
  electric: ["live-panel", "current-transformers", "switchboard", "live-winding"],
  power: ["blackout-warned", "others-carry", "motoring-stop", "standby-oil-first", "turbines-run-down"],
  gas: ["pilot-line"],
};

/** What can hurt on this day, each with the tests that bring it: read out and ticked at the brief. */
export const hazardTable = ({ sets }: Plan, day: DayPlan | null): readonly SheetBlock[] => {
  const tests = sets.flatMap(({ protections }) => protections).filter(({ ref }) => isOnDay(ref, day));
  const rows = (Object.keys(SAY.carry.hazards) as Group[]).flatMap((group) => {
    const refs = tests.filter(({ cautions }) => cautions.some((id) => HAZARDS[group].includes(id))).map(({ ref }) => ref);
    return refs.length === 0 ? [] : [[SAY.carry.hazards[group], refRange(refs), BOX]];
  });
  return tableOf(
    [
      { title: SAY.carry.hazard, share: 46 },
      { title: SAY.carry.tests, share: 44 },
      { title: SAY.carry.told, share: 10 },
    ],
    [[SAY.carry.everywhere, SAY.carry.allDay, BOX], ...rows],
  );
};
