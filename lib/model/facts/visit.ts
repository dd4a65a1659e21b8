import { choice, type FactSpec, number } from "../fact.ts";

export const RULE_BASIS = "/ruleBasis";
export const SOLAS = "SOLAS and class";
export const CFR_PERIODIC = "46 CFR 61.40";
export const CFR_OFFSHORE = "46 CFR 130.480";
export const MAKER_OFFICE = "maker and office";
export const LOCAL_RULES = "local rules";
export const APPROVED = "/approvedProcedure";
export const TACHOMETER_ERROR = "/policy/tachometerError";

export const visitFacts: readonly FactSpec[] = [
  {
    at: RULE_BASIS,
    domain: choice(SOLAS, CFR_PERIODIC, CFR_OFFSHORE, MAKER_OFFICE, LOCAL_RULES),
    use: "deciding",
    carriedBy: "question",
    name: "rules that bind",
    question: "Which rules bind the vessel's tests, by her flag, class and certificates?",
    why: "The rules say which techniques of testing are accepted. Under 46 CFR tonnage and manning decide between part 61.40 and section 130.480.",
    look: "certificate of inspection or class certificate; approved test procedure",
    labels: {
      [SOLAS]: "SOLAS with IACS and class practice",
      [CFR_PERIODIC]: "46 CFR with 61.40-10 (periodic safety tests)",
      [CFR_OFFSHORE]: "46 CFR with 130.480 (offshore supply vessels)",
      [MAKER_OFFICE]: "maker's procedure and office policy only",
      [LOCAL_RULES]: "local rules, in the office's own words",
    },
  },
  {
    at: APPROVED,
    domain: choice("aboard", "none"),
    use: "deciding",
    carriedBy: "question",
    name: "approved test procedure",
    question: "Has the vessel a test procedure that the authority or class has approved for her?",
    why: "Where there is one, its steps are the plan, and departing from it goes to the authority.",
    look: "approved test procedure with its date",
  },
  {
    at: TACHOMETER_ERROR,
    domain: number(0, 200, 0.5),
    unit: "rpm",
    use: "record",
    carriedBy: "question",
    name: "largest tachometer error",
    question: "What is the largest error of the tachometer used for overspeed tests?",
    why: "The margin of the overspeed test is counted with it.",
  },
];
