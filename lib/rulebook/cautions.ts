import { is } from "../logic/condition.ts";
import { jacketWaterAt, SHARED_ALWAYS, SHARED_BY_HAND } from "../model/facts/jacketWater.ts";
import { DUAL_FUEL, PRIME_MOVER, STEAM } from "../model/facts/set.ts";
import { basis } from "./basis.ts";
import type { Caution } from "./types.ts";

export const cautions: readonly Caution[] = [
  {
    id: "blind-channel",
    text: "While this channel is blind the engine has no such protection. An independent local reading is watched, one person stands at the hand stop that has just been proven, the other trips are alive, no load, and the minutes are limited.",
    basis: [basis.practice],
  },
  {
    id: "panel-dead",
    text: "With all supplies off no trip works: a hand is at the mechanical stop, proven before, and it ends with the answer.",
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
    text: "The sensing line holds hot oil under pressure. Before opening anything shut and prove the isolating valve or, without one, see the line without pressure at standstill; bleed slowly, away from hot surfaces and faces.",
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
    when: is(jacketWaterAt.shared, SHARED_BY_HAND, SHARED_ALWAYS),
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
    id: "starts-by-itself",
    text: "The set starts by itself or on command, without warning: everybody is told, and nobody is near flywheel, belts or couplings until the test is over.",
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
  {
    id: "standby-oil-first",
    when: is(PRIME_MOVER, STEAM),
    text: "On a turbine the stand-by and the emergency oil pump are proven before any oil trip: without oil the bearings are lost while it runs down.",
    basis: [basis.practice],
  },
  {
    id: "turbines-run-down",
    when: is(PRIME_MOVER, STEAM),
    onAnySet: true,
    text: "Before a loss of power the stand-by and the emergency oil pump of every turbine are proven: without oil its bearings are lost while it runs down.",
    basis: [basis.practice],
  },
  {
    id: "motoring-stop",
    text: "Motoring is broken off by hand two seconds after the set delay, never later than ten seconds or the maker's time; then the breaker is opened by hand and the relay is not tried again that day.",
    basis: [basis.practice],
  },
  {
    id: "others-carry",
    text: "Before the set is taken off: the others carry the load, no heavy consumer starts, load-dependent stop is blocked, and it is said what happens if one more set trips.",
    basis: [basis.practice, basis.largestSetStopped],
  },
  {
    id: "current-transformers",
    text: "Never open the secondary circuit of a current transformer under load: it arcs and kills. The links of the test block short it first; only the relay technician touches them.",
    basis: [basis.practice],
  },
  {
    id: "switchboard",
    text: "Only qualified people open the switchboard; arc flash. Barriers and protective clothing as the ship's own rules say.",
    basis: [basis.practice],
  },
  {
    id: "blackout-warned",
    text: "Before a loss of power: bridge, cargo, terminal, lifts, galley and everybody in dark or noisy spaces are told, and it is said aloud again one minute before.",
    basis: [basis.practice],
  },
  {
    id: "turning-shaft",
    text: "A turning propeller: no divers, no boats, moorings tended, bridge and berth told before the shaft turns and before each change of speed.",
    basis: [basis.practice],
  },
  {
    id: "crankcase-shut",
    text: "Never open the crankcase of a hot engine, nor after a real oil-mist alarm before the maker's cooling time.",
    basis: [basis.practice],
  },
  {
    id: "fuel-poured",
    text: "Fuel on or near a hot exhaust burns: engine cold, exhaust shielded, a cupful at most, caught in a tray.",
    basis: [basis.practice, basis.hotSurface],
  },
  {
    id: "pilot-line",
    text: "Never work at the release of a fire-extinguishing system with its bottles or pilot line armed: the gas kills. Disconnected, tagged and counted before and after.",
    basis: [basis.practice],
  },
  {
    id: "flywheel",
    text: "Nobody near flywheel, belts or couplings while a start is tried; starting energy shut off and vented first.",
    basis: [basis.practice],
  },
  {
    id: "live-winding",
    text: "Never open the terminal box of a live machine: leads of embedded sensors are taken off only in a panel apart from the machine, above 1000 V only as the maker says, or with the machine dead and earthed.",
    basis: [basis.practice],
  },
  {
    id: "oil-not-gas",
    when: is(PRIME_MOVER, DUAL_FUEL),
    text: "No stop test in gas mode: the set runs on oil for every other test.",
    basis: [basis.practice],
  },
  {
    id: "turbine-speed",
    text: "The turbine is warm, quiet and unloaded, governor and stop valves are tight; speed is raised slowly to the maker's procedure and the hand trip is held. After the trip it is not latched before the maker's speed.",
    basis: [basis.practice, basis.turbineSpeed],
  },
  {
    id: "oil-injection-after",
    text: "Oil injection never comes before a real speed test of the same bolt: it frees the bolt and spoils what would have been found.",
    basis: [basis.practice],
  },
  {
    id: "back-in-automatic",
    text: "The selector goes back to automatic and is seen there; stores are full again before the next test and before leaving.",
    basis: [basis.practice],
  },
  {
    id: "flap-once",
    text: "One attempt, at or under the maker's speed; the flap is reset and the inlet looked through before the next start.",
    basis: [basis.practice],
  },
  {
    id: "fuel-vented",
    text: "After the shut-off the fuel lines are vented and every valve is seen open before a set is started. That is counted in the time of the test.",
    basis: [basis.practice],
  },
];
