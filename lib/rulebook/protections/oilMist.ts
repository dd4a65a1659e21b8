import { is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { both } from "../../model/facts/asking.ts";
import { oilMistAt as at, OIL_MIST, oilMistWords } from "../../model/facts/machine.ts";
import { onDiesels, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, STOPS_ONCE, setMayStop, underClass, WHOLE } from "./common.ts";
import { inSteps, STARTED_AGAIN } from "./procedure.ts";

const testPoint = practical(is(at.testPoint, "yes"), "not possible because the detector has no point for test mist or filter");

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "om-kit",
    approvable: true,
    name: "maker's test mist or filter at the detector head, engine stops",
    technique: 2,
    does: "Engine at no load, crankcase shut: the maker's test mist or filter is put to the detector head; alarm, slow-down or stop follow as fitted.",
    ...inSteps(
      "The maker's test mist or filter is put to the detector head.",
      "Alarm, slow-down or stop are seen to follow as fitted, and the seconds are read.",
      "The head that acted is read at the detector.",
      "Mist or filter is taken away and the alarm cleared.",
      STARTED_AGAIN,
    ),
    proves: WHOLE,
    minutes: 20,
    requirements: [testPoint, setMayStop],
    needs: ["mist-kit", "ships-engineer", "set-available"],
    cautions: ["crankcase-shut", "hand-stop-first", "no-leak"],
    expected: "alarm or stop as fitted, within the maker's time; the head that acted is shown",
    basis: [basis.practice, basis.solasOilMist],
    examples: {
      fit: { ...underClass, [at.testPoint]: "yes", [STOPS_ALLOWED]: "yes", [supportAt.mistKit]: ABOARD },
      barred: { [at.testPoint]: "no" },
      open: at.testPoint,
    },
  }),
  method({
    id: "om-kit-standstill",
    setIs: "at rest",
    name: "engine stopped: test mist or filter at the detector head, stop relay seen to move",
    technique: 2,
    does: "Engine stopped, crankcase shut, detector powered: the maker's test mist or filter is put to the head and the stop relay seen to move.",
    proves: { ...WHOLE, final: "movement" },
    hazard: 0,
    minutes: 20,
    requirements: [
      testPoint,
      practical(
        is(STOPS_ALLOWED, "no"),
        "not planned because the set can be run and stopped for tests: the test at standstill is for a set that cannot",
      ),
    ],
    needs: ["mist-kit", "ships-engineer"],
    cautions: ["crankcase-shut", "unexpected-start"],
    expected: "alarm, and stop relay moves where fitted; the head that acted is shown",
    basis: [basis.practice, basis.solasOilMist],
    examples: {
      fit: { ...underClass, [at.testPoint]: "yes", [STOPS_ALLOWED]: "no", [supportAt.mistKit]: ABOARD },
      barred: { [STOPS_ALLOWED]: "yes" },
      open: at.testPoint,
    },
  }),
  method({
    id: "om-optics",
    approvable: true,
    name: "detector's built-in optics test",
    technique: 3,
    does: "The detector's own test darkens its optics and raises the alarm; nothing is stopped.",
    proves: { logic: "running value" },
    grade: "action only",
    hazard: 0,
    minutes: 5,
    requirements: [practical(is(at.fitted, "stop", "alarm only"), "not possible because no oil-mist detector is fitted")],
    cautions: ["crankcase-shut"],
    expected: "the detector reports its optics in order and raises the alarm",
    basis: [basis.practice, basis.builtInTest],
    examples: { fit: { ...underClass, [at.fitted]: "stop" }, barred: { [at.fitted]: "none" }, open: at.fitted },
  }),
  forbiddenMethod(
    "om-open",
    "crankcase of a hot engine opened",
    "A crankcase door is opened on a hot engine.",
    "never: air let into a hot crankcase can explode",
  ),
];

export const oilMist: Protection = {
  kind: OIL_MIST,
  name: oilMistWords.name,
  short: "oil mist",
  applies: both(onDiesels, is(at.fitted, "stop", "alarm only")),
  appliesNot: "no oil-mist detector is fitted, or the set has no crankcase",
  notes: [
    {
      when: is(at.fitted, "bearing temperatures instead"),
      text: "Bearing temperatures stand in for oil-mist detection: they are proven under high bearing temperature.",
      basis: [basis.solasOilMist],
    },
  ],
  danger: true,
  dangerReason: "real oil mist explodes",
  methods,
  basis: [basis.solasOilMist],
};
