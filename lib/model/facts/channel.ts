import { type Condition, is } from "../../logic/condition.ts";
import { choice, type FactSpec, type PhotographId, yesNo } from "../fact.ts";
import { approvedStepFact, both, deciding, fittedFact, type ProtectionWords, under } from "./asking.ts";

/** The pointers of what is asked of every channel alike. */
export const channelAt = (kind: string) => ({
  fitted: `/sets/*/${kind}/fitted`,
  approvedStep: `/sets/*/${kind}/approvedStep`,
  insideModule: `/sets/*/${kind}/insideModule`,
  makerProcedure: `/sets/*/${kind}/makerProcedure`,
  makerForbids: `/sets/*/${kind}/makerForbids`,
  element: `/sets/*/${kind}/element`,
  localReading: `/sets/*/${kind}/localReading`,
  sensors: `/sets/*/${kind}/sensors`,
  standstillTest: `/sets/*/${kind}/standstillTest`,
  monitored: `/sets/*/${kind}/monitored`,
  loopSupply: `/sets/*/${kind}/loopSupply`,
});

export interface ChannelWords extends ProtectionWords {
  readonly fitted: readonly string[];
  readonly elements: readonly string[];
  readonly elementPhotograph: PhotographId;
  /** The independent reading that is watched while the channel is blind; absent where test equipment gives it. */
  readonly localReading?: string;
}

/** Where the channel belongs to the set and is fitted. "none" is always the last answer. */
export const presentIn = (words: ChannelWords): Condition =>
  both(words.base, is(channelAt(words.kind).fitted, ...words.fitted.filter((value) => value !== "none")));

export const SEPARATE_SENSORS = "separate for alarm and stop";
export const ONE_OF_TWO = "two, either acts";
export const TWO_OF_THREE = "two out of three";

export const PLAIN_SWITCH = "plain switch";
export const THERMOSTAT = "adjustable thermostat";
export const TRANSMITTER = "4-20 mA transmitter";
export const RATIOMETRIC = "0.5-4.5 V transducer";

const makersWay =
  "The rules treat the techniques of a maker's procedure differently, and nothing is arranged on it before its technique is known.";

/** What is asked of every channel, in the order of asking. The approved step's answers are method ids and come from the rulebook. */
export const channelFacts = (
  words: ChannelWords,
  approvedSteps: readonly string[],
  labels: Readonly<Record<string, string>>,
): readonly FactSpec[] => {
  const at = channelAt(words.kind);
  const base = { use: "deciding", carriedBy: "question" } as const;
  const own: readonly FactSpec[] = [
    {
      ...base,
      at: at.insideModule,
      name: `${words.name}: inside the maker's module`,
      domain: yesNo,
      question: `Does the ${words.name} channel run inside the engine maker's electronic control module?`,
      why: "Inside the module the maker's own procedure comes first.",
      look: "safety panel drawing: where the sensor's cable ends",
      photograph: "safetyPanel",
    },
    {
      ...base,
      at: at.makerProcedure,
      name: `${words.name}: maker's procedure`,
      domain: choice("none", "reduced threshold", "stored value"),
      parent: is(at.insideModule, "yes"),
      question: `Has the maker a published test procedure for ${words.name}, and does it use a reduced-threshold test function or change the stored value?`,
      why: makersWay,
      look: "maker's service manual, chapter on testing safety functions",
    },
    {
      ...base,
      at: at.makerForbids,
      name: `${words.name}: other means forbidden by the maker`,
      domain: yesNo,
      question: `Does the engine maker forbid stimulating the ${words.name} channel by other means than his own procedure?`,
      why: "What the maker forbids is not planned.",
      look: "maker's operating manual",
    },
    {
      ...base,
      at: at.element,
      name: `${words.name}: sensing element`,
      domain: choice(...words.elements),
      question: `What kind of sensing element has the ${words.name} channel?`,
      why: "The element decides what can be fed in and what the channel can show.",
      look: "sensor plate; spare-parts list",
      photograph: words.elementPhotograph,
    },
    ...(words.localReading === undefined
      ? []
      : [
          {
            ...base,
            at: at.localReading,
            name: `${words.name}: independent local reading`,
            domain: yesNo,
            question: `Is there, or can there be fitted at standstill, ${words.localReading} that does not depend on this channel?`,
            why: "While the channel is blind somebody must watch an independent reading.",
            photograph: words.elementPhotograph,
          },
        ]),
    ...(words.localReading === undefined
      ? []
      : [
          deciding(
            at.sensors,
            `${words.name}: sensors`,
            choice("one", SEPARATE_SENSORS, ONE_OF_TWO, TWO_OF_THREE),
            `Has ${words.name} one sensor, separate ones for alarm and stop, or several that vote?`,
            "Each sensor is proven: one says nothing of another.",
            { look: "safety panel drawing", photograph: words.elementPhotograph },
          ),
        ]),
    {
      ...base,
      at: at.standstillTest,
      name: `${words.name}: test at standstill past the start-up inhibit`,
      domain: choice("possible", "only by rewiring"),
      question: `With the engine stopped and the control powered, has the maker a way past the start-up inhibit so that ${words.name} can act?`,
      why: "A test at standstill needs the channel to act although the engine is stopped.",
      look: "maker's manual; safety panel drawing",
    },
    {
      ...base,
      at: at.monitored,
      name: `${words.name}: circuit monitored`,
      domain: yesNo,
      question: `Is the sensor circuit of ${words.name} monitored for wire break and short circuit?`,
      why: "Only a monitored circuit answers to a wire break.",
      look: "safety panel drawing",
      photograph: "safetyPanel",
    },
  ];
  const fitted = fittedFact(words, words.fitted, `What does the ${words.name} protection of this set do when it acts?`, {
    photograph: "setPointPage",
  });
  return [fitted, ...under(presentIn(words), [approvedStepFact({ ...words, base: true }, approvedSteps, labels), ...own])];
};
