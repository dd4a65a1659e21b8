import { basis } from "./basis.ts";
import type { Caution } from "./types.ts";

export const cautions: readonly Caution[] = [
  {
    id: "blind-channel",
    text: "While this channel is blind the engine has no such protection. An independent local reading is watched, one person stands at the hand stop that has just been proven, the other trips are alive, no load, and the minutes are limited.",
    basis: [basis.practice],
  },
  {
    id: "hand-stop-first",
    text: "The hand stop at the engine is proven before this test. If it fails, the running tests of this set end.",
    basis: [basis.practice],
  },
  {
    id: "no-leak",
    text: "No running test with a wet fuel or oil leak anywhere, above all near turbocharger and exhaust. Looked for again after start and after every refitted sensor or plug.",
    basis: [basis.practice, basis.hotSurface],
  },
  {
    id: "pressurised-oil",
    text: "The sensing line holds hot oil under pressure. Shut and prove the isolating valve before opening anything; bleed slowly, away from hot surfaces and faces.",
    basis: [basis.practice, basis.hotSurface],
  },
  {
    id: "never-hot-well",
    text: "Never draw a wetted sensor from a hot or pressurised circuit: scalding and loss of coolant.",
    basis: [basis.practice],
  },
  {
    id: "drained-hold-point",
    text: "Hold point: circuit isolated, preheater locked off, vented with the gauge at zero, local temperature at or under the office's limit, drained below the well. Any one not seen: the sensor stays in.",
    basis: [basis.practice, basis.office],
  },
  {
    id: "no-open-bath",
    text: "No open oil bath beside a running engine on a moving ship; use a dry block or a closed stirred bath.",
    basis: [basis.practice],
  },
  {
    id: "hot-sensor",
    text: "Heated sensor and block burn hands; the block stands secured.",
    basis: [basis.practice],
  },
  {
    id: "cooling-by-hand",
    text: "Where the sensor also controls the cooling, its valve is put to hand and watched before the sensor or plug is touched: a withdrawn sensor reads cold and shuts off cooling.",
    basis: [basis.practice],
  },
  {
    id: "coolant-level",
    text: "See that the sensing element lies below the coolant level: a dry element does not warn.",
    basis: [basis.coolantLevel],
  },
  {
    id: "restore-and-verify",
    text: "What was changed is put back and seen by the inspector before the next step: a bypass or changed value left behind is worse than no test.",
    basis: [basis.practice, basis.noOverride],
  },
  {
    id: "codes-and-derates",
    text: "Fault codes and derates set by the test are cleared by whoever can clear them before the set goes back to automatic.",
    basis: [basis.practice],
  },
  {
    id: "overspeed-people",
    text: "Speed above rated: flying parts. Everybody out of the plane of rotation, two people only, abort speed agreed aloud, least time above rated, two attempts at most.",
    basis: [basis.practice],
  },
  {
    id: "overspeed-excursion",
    text: "Speed above the maker's maximum or the abort speed, or no trip: stop, and no restart before the maker's inspection.",
    basis: [basis.overspeedExcursion],
  },
  {
    id: "unexpected-start",
    text: "Engine stopped: starting energy shut off and vented or disconnected, start blocked, before anybody works at the flywheel or the pick-up.",
    basis: [basis.practice],
  },
  {
    id: "full-fuel",
    text: "Never feed a frequency into a pick-up that the governor uses on a running engine, nor open its circuit: the governor can answer with full fuel.",
    basis: [basis.practice],
  },
  {
    id: "live-panel",
    text: "Live terminals: only the ship's electrician or the technician works in the panel.",
    basis: [basis.practice],
  },
];
