import { abortWindow, overspeedLimit, verifyPoint } from "../../figures/overspeed.ts";
import { pickupFrequency } from "../../figures/pickup.ts";
import { RATED_SPEED } from "../../model/facts/set.ts";
import { basis } from "../../rulebook/basis.ts";
import { OVERSPEED_FACTOR } from "../../rulebook/protections/overspeedWindow.ts";
import type { PlanFigure } from "../schema.ts";
import { type FigureInput, figure, numberAt, rounded, setPointOf, spread } from "./input.ts";

/** Fraction and spread of the published reduced-threshold test. */
export const TEST_MODE = { fraction: 0.75, spread: 25 } as const;

export const THRESHOLD = "test mode at 75 %: reduced threshold";

interface SpeedPointers {
  readonly setPoint: string;
  readonly tolerance: string;
  readonly makersMaximum: string;
  readonly toothCount: string;
}

/** Limit, abort window, test mode and pick-up frequency of an overspeed trip. */
export const overspeedFigures = (input: FigureInput, at: SpeedPointers): readonly PlanFigure[] => {
  const [setPoint, tolerance, makersMaximum] = [
    numberAt(input, at.setPoint),
    numberAt(input, at.tolerance),
    numberAt(input, at.makersMaximum),
  ];
  const [rated, teeth] = [numberAt(input, RATED_SPEED), numberAt(input, at.toothCount)];
  // While it is open which rules bind, the strictest of them is kept to.
  const factor = input.ruleBasis === null ? OVERSPEED_FACTOR : (input.ruleBasis.overspeedFactor ?? null);
  const limit = rated === undefined || factor === null ? undefined : overspeedLimit(rated, factor);
  const limits = [basis.overspeedLimitUs, basis.overspeedLimitClass];
  const window =
    setPoint === undefined || tolerance === undefined
      ? undefined
      : abortWindow({
          setPoint,
          tolerance,
          tachometerError: input.visit.policy.tachometerError,
          ...(limit?.ok === true ? { ruleLimit: limit.value } : {}),
          ...(makersMaximum === undefined ? {} : { makersMaximum }),
        });
  const mode = setPoint === undefined ? undefined : verifyPoint(setPoint, TEST_MODE.fraction, TEST_MODE.spread);
  return [
    ...setPointOf(input, at, "set point", "rpm"),
    ...(limit === undefined
      ? []
      : figure("highest permitted trip speed", limit, "rpm", 1, limits, {
          note: `${factor} × rated speed${input.ruleBasis === null ? "; kept to while the rules are open" : ""}`,
        })),
    ...(window === undefined || !input.mayUse("raise") || (limit === undefined && makersMaximum === undefined)
      ? []
      : [
          ...(window.empty
            ? []
            : [
                {
                  name: "tripped by hand at the latest when the tachometer shows",
                  value: Math.floor(window.to - input.visit.policy.tachometerError),
                  unit: "rpm",
                  basis: [basis.practice, ...(limit === undefined ? [] : limits)],
                },
              ]),
          {
            name: "abort window",
            ...(window.empty ? {} : { officeOnly: true as const }),
            value: window.empty ? "empty" : `${rounded(window.from, 1)} to ${rounded(window.to, 1)}`,
            unit: window.empty ? "" : "rpm",
            note: window.empty ? window.reason : `true speeds; the tachometer may read ${input.visit.policy.tachometerError} rpm low`,
            basis: [basis.practice, ...(limit === undefined ? [] : limits)],
          },
        ]),
    ...(mode?.ok === true && input.mayUse("test mode")
      ? [
          {
            name: THRESHOLD,
            value: rounded(mode.value.thresholdRpm, 1),
            unit: "rpm",
            note: `holds at ${rounded(mode.value.holdsAtRpm, 1)} rpm, trips at ${rounded(mode.value.tripsAtRpm, 1)} rpm; the control's own fraction goes first`,
            basis: [basis.reducedThreshold],
          },
        ]
      : []),
    ...(setPoint === undefined || teeth === undefined || !input.mayUse("frequency")
      ? []
      : figure("pick-up frequency at the trip", pickupFrequency(teeth, setPoint), "Hz", 1, [basis.arithmetic], {
          ...spread((rpm) => pickupFrequency(teeth, rpm), setPoint, tolerance, 1),
          note: `${teeth} teeth × speed / 60`,
        })),
  ];
};
