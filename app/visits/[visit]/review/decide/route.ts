import { REVIEW_ACTS, type ReviewAct } from "../../../../../lib/store/reviews.ts";
import { decideReview, keepComments, type ReviewFault } from "../../../../../lib/usecases/review/decide.ts";
import { said, see, textIn, turnedAway, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { type KeptReview, reviewForm, reviewPage } from "../../../../_server/reviewForm.ts";

const DONE: Readonly<Record<ReviewAct, string>> = {
  asked: "The review is asked for. The plan stands among the supervisors’ reviews now.",
  withdrawn: "The review is no longer asked for.",
  approved: "Approved as it stands. Its letter may go out; what is changed from here on is to be approved again.",
  "sent back": "Sent back. The inspector sees it here and in the list of visits.",
};

/** What only a supervisor decides. */
const SUPERVISORS: readonly ReviewAct[] = ["approved", "sent back"];

/** Shows the form again as it was typed, with what is wrong with it. */
const again = async ({ office, form, stored, by }: WritingVisit, faults: readonly ReviewFault[]): Promise<Response> => {
  const { words, comments } = reviewForm(form);
  const kept: KeptReview = { words, comments: Object.fromEntries(comments), faults: [...faults] };
  await office.store.keepTyped(reviewPage(stored.id), JSON.stringify(kept), by);
  return see(`/visits/${stored.id}/review?again=1#problems`);
};

export const POST = writeOfVisit(
  "POST /visits/[visit]/review/decide",
  async (writing) => {
    const { office, form, stored, person, by, log, request } = writing;
    const given = textIn(form, "act");
    const { words, comments } = reviewForm(form);
    const here = `/visits/${stored.id}/review`;
    const done = async (text: string): Promise<Response> => {
      await office.store.keepTyped(reviewPage(stored.id), null, by);
      return see(`${here}?${said(office, { done: text })}`);
    };
    if (given === "comment") {
      const own = new Map([...comments, ...(words.trim() === "" ? [] : [["", words] as const])]);
      const kept = await keepComments(office, stored, own, by);
      if (!kept.ok) return again(writing, kept.faults);
      await log("commented", stored.id, `${kept.value} ${kept.value === 1 ? "comment" : "comments"} on the plan`);
      return done(kept.value === 1 ? "The comment is kept." : `${kept.value} comments are kept.`);
    }
    const act = REVIEW_ACTS.find((one) => one === given);
    if (act === undefined) return turnedAway(request, 400, `act: given "${given.slice(0, 40)}"; wanted one of ${REVIEW_ACTS.join(", ")}`);
    if (SUPERVISORS.includes(act) && person.role !== "supervisor") {
      await log("refused", stored.id, `review: ${act}`);
      return turnedAway(request, 404, "a supervisor decides on a review");
    }
    const [seen, version] = [Number(textIn(form, "seen")) || 0, Number(textIn(form, "version")) || 0];
    const standsIn = person.standsInFor.includes(stored.owner);
    const decided = await decideReview(office, stored, { act, words, comments, seen, version, standsIn }, by);
    if (!decided.ok) {
      await log("refused", stored.id, `review ${act}: ${decided.faults[0]?.says ?? ""}`.slice(0, 500));
      return again(writing, decided.faults);
    }
    await log(`review ${act}`, stored.id, words.trim().slice(0, 300));
    return done(DONE[act]);
  },
  async ({ office, form, params }, person) => {
    const { words, comments } = reviewForm(form);
    const kept: KeptReview = { words, comments: Object.fromEntries(comments), faults: [] };
    const by = { who: person, when: office.world.now() };
    await office.store.keepTyped(reviewPage(String(params["visit"])), JSON.stringify(kept), by);
  },
);
