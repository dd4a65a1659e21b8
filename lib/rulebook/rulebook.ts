import { photographs } from "../model/fact.ts";
import { channelFacts } from "../model/facts/channel.ts";
import { jacketWaterFacts, jacketWaterWords } from "../model/facts/jacketWater.ts";
import { lubeOilFacts, lubeOilWords } from "../model/facts/lubeOil.ts";
import { overspeedFacts, overspeedWords } from "../model/facts/overspeed.ts";
import { setFacts } from "../model/facts/set.ts";
import { supportFacts } from "../model/facts/support.ts";
import { visitFacts } from "../model/facts/visit.ts";
import { cautions } from "./cautions.ts";
import { needs } from "./needs.ts";
import { orderOfPreference } from "./preference.ts";
import { jacketWaterTemperature } from "./protections/jacketWaterTemperature.ts";
import { lubeOilPressure } from "./protections/lubeOilPressure.ts";
import { overspeed } from "./protections/overspeed.ts";
import { ruleBases, techniques } from "./ruleBases.ts";
import type { Protection, Rulebook } from "./types.ts";

const stepsOf = (protection: Protection): readonly string[] => protection.methods.filter((m) => m.approvable === true).map((m) => m.id);
const labelsOf = (protection: Protection): Readonly<Record<string, string>> => ({
  none: "no approved procedure, or it does not cover this",
  "another step": "the approved procedure has another step",
  ...Object.fromEntries(protection.methods.map((m) => [m.id, m.name])),
});

/** The whole rulebook, as data. */
export const rulebook: Rulebook = {
  version: "1.0.0",
  facts: [
    ...visitFacts,
    ...setFacts,
    ...channelFacts(lubeOilWords, stepsOf(lubeOilPressure), labelsOf(lubeOilPressure)),
    ...lubeOilFacts,
    ...channelFacts(jacketWaterWords, stepsOf(jacketWaterTemperature), labelsOf(jacketWaterTemperature)),
    ...jacketWaterFacts,
    ...channelFacts(overspeedWords, stepsOf(overspeed), labelsOf(overspeed)),
    ...overspeedFacts,
    ...supportFacts,
  ],
  ruleBases,
  protections: [lubeOilPressure, jacketWaterTemperature, overspeed],
  needs,
  always: ["set-point-list", "last-record"],
  cautions,
  techniques,
  hazards: {
    0: "instruments and readings only",
    1: "the engine stops on command, or a channel is blind while it runs",
    2: "a hot or pressurised system is opened, or speed goes above rated",
    3: "never",
  },
  orderOfPreference,
  photographs,
};
