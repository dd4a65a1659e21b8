import { any, atMost, type Condition, is } from "../../logic/condition.ts";
import { RATED_SPEED } from "../../model/facts/set.ts";
import { LOCAL_RULES, MAKER_OFFICE, RULE_BASIS, TACHOMETER_ERROR } from "../../model/facts/visit.ts";
import { basis } from "../basis.ts";
import type { Requirement } from "../types.ts";
import { practical } from "./common.ts";

/** Highest permitted trip speed over rated speed, where the rule basis names one. */
export const OVERSPEED_FACTOR = 1.15;

/** The least room, rpm, between the latest trip and a limit: one step of the grid, since no room at all is an empty window. */
const ROOM = 0.5;

interface Speeds {
  readonly setPoint: string;
  readonly tolerance: string;
  readonly makersMaximum: string;
}

/** set point + tolerance + tachometer error stays under the makers' maximum. */
const roomUnderMaker = (at: Speeds): Condition =>
  atMost(
    [
      [1, at.setPoint],
      [1, at.tolerance],
      [1, TACHOMETER_ERROR],
      [-1, at.makersMaximum],
    ],
    -ROOM,
  );

const roomUnderRule = (at: Speeds): Condition =>
  any(
    is(RULE_BASIS, MAKER_OFFICE, LOCAL_RULES),
    atMost(
      [
        [1, at.setPoint],
        [1, at.tolerance],
        [1, TACHOMETER_ERROR],
        [-OVERSPEED_FACTOR, RATED_SPEED],
      ],
      -ROOM,
    ),
  );

/** No room under the makers' maximum: set point + tolerance + error − maximum ≥ 0. */
export const noRoom = (at: Speeds): Condition =>
  atMost(
    [
      [-1, at.setPoint],
      [-1, at.tolerance],
      [-1, TACHOMETER_ERROR],
      [1, at.makersMaximum],
    ],
    0,
  );

const aboveRated = (at: Speeds): Condition =>
  atMost(
    [
      [1, RATED_SPEED],
      [-1, at.setPoint],
    ],
    -0.1,
  );

/** What a real overspeed needs of its speeds: the abort window must not be empty. */
export const roomToRaise = (at: Speeds): readonly Requirement[] => [
  practical(aboveRated(at), "not possible because the set point given does not lie above the rated speed: one of the two is wrong"),
  practical(roomUnderMaker(at), "not possible because no room is left between trip and the makers' maximum: the abort window is empty"),
  {
    bar: "rule",
    when: roomUnderRule(at),
    otherwise:
      "not accepted because trip, tolerance and tachometer error together reach above 115 % of rated speed, the limit of the rules",
    basis: [basis.overspeedLimitUs, basis.overspeedLimitClass],
  },
];
