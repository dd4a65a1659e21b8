import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Message, sealed } from "../../lib/access/message.ts";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import type { SentLetter } from "../../lib/store/exchanges.ts";
import { readPastedMail } from "../../lib/usecases/exchange/loadReply.ts";
import { decideReview, keepComments } from "../../lib/usecases/review/decide.ts";
import { beginWhatIf, runWhatIf } from "../../lib/usecases/review/whatIf.ts";
import { chooseMethod } from "../../lib/usecases/visits/deviate.ts";
import { scratch } from "../cli/cli.ts";
import { newVisitor, openBrowser, picture, signIn, type Visitor } from "./browser.ts";

import { nuErrors } from "./nu.ts";
import { letterSent, replyConfirmed } from "./replies.ts";
import { loadedNow, sentNow } from "./sent.ts";
import { loaded, type Served, serve } from "./server.ts";

let served: Served;
let browser: Browser;
let old: string;
let bare: string;
let contradicting: string;
let draft: string;
let chosen: string;
let [unsent, waiting, overdue] = ["", "", ""];
let open: SentLetter;
let read: SentLetter;
let confirmed: SentLetter;
/** One policy in force, a draft beside it, and a visit that could not be planned under the one in force. */
const writePolicies = async (): Promise<void> => {
  const { store, world } = served.office;
  const by = { who: served.people.odo, when: world.now() };
  const inForce = { plan: { loadLimit: 80, holidays: ["2026-12-25"], leaveOut: ["fuelLeak"] }, review: { deviations: true } };
  await store.addPolicy(officePolicySchema.parse(inForce), "hot summers", { versions: 0, acts: 0 }, by);
  await store.decidePolicy(1, { act: "adopted", takesEffect: by.when.slice(0, 10) }, "agreed in the office", { acts: 0 }, by);
  const weighed = {
    plan: { loadLimit: 75, mayStayOpen: ["sensing", "wiring", "logic", "final"] },
    units: "us",
    review: { consent: ["sensing"] },
  };
  await store.addPolicy(officePolicySchema.parse(weighed), "", { versions: 1, acts: 1 }, by);
  chosen = world.newId();
  const deviations = [{ protection: "/sets/1/fuelLeak", method: "fl-float", reason: "as last year" }];
  const visit = { vessel: { name: "Sundalis Reach" }, place: { name: "Haverdyn Roads" }, window: { from: "2027-03-24", to: "2027-03-25" } };
  const frame = { format: "forehail visit 1", preparedOn: by.when.slice(0, 10), visit, sets: [{ name: "Generator 1" }], deviations };
  await store.createVisit(chosen, served.people.mara, { vessel: "Sundalis Reach", frame, sets: [1] }, [], by);
};

/** Two plans of alike machinery, one against the engine and commented on, and something tried on them. */
const reviewsAsked = async (): Promise<readonly [string, string]> => {
  const { office, people } = served;
  const { store, world } = office;
  const [against, along] = [await loadedNow(served, "old-mechanical", 2), await loadedNow(served, "old-mechanical", 2)];
  for (const id of [against, along]) {
    const by = { who: people.mara, when: world.now() };
    const before = await store.visit(id);
    if (before === null) throw new Error("no visit");
    const choosing = {
      at: "/sets/0/overspeed",
      method: "os-lever",
      reason: "quicker, and the lever was set last year",
      seen: before.version,
    };
    if (id === against) await chooseMethod(office, before, choosing, by);
    const stored = await store.visit(id);
    if (stored === null) throw new Error("no visit");
    const asking = { act: "asked", words: "for Monday", comments: new Map(), seen: 0, version: stored.version } as const;
    const asked = await decideReview(office, stored, asking, by);
    if (!asked.ok) throw new Error(JSON.stringify(asked.faults));
    await keepComments(office, stored, new Map([["/sets/0/overspeed", "Why not raised?\nIt was last year."]]), {
      who: people.odo,
      when: world.now(),
    });
  }
  const begun = await beginWhatIf(office, { sort: "policy", number: 2 }, people.odo);
  if (!begun.ok) throw new Error(begun.faults.join());
  const whatIf = await store.whatIf(begun.value);
  if (whatIf !== null) await runWhatIf(office, whatIf);
  return [against, begun.value];
};

let gone: string;
let forgotten: string;
let [reviewed, tried] = ["", ""];
beforeAll(async () => {
  [served, browser] = [await serve(), await openBrowser()];
  old = await loaded(served, "old-mechanical", served.people.mara);
  bare = await loaded(served, "almost-nothing-known", served.people.mara);
  open = (await letterSent(served, await loadedNow(served, "modern-electronic"))).letter;
  read = (await letterSent(served, await loadedNow(served, "old-mechanical"))).letter;
  const mail = { text: "T1: agreed\nR1: yes\nRegards", name: "Łukasz Wrona", role: "Chief engineer" };
  const office = { store: served.office.store, rulebook: served.office.planner.rulebook };
  await readPastedMail(office, read, mail, { who: served.people.mara, when: served.office.world.now() });
  confirmed = await replyConfirmed(served, await loadedNow(served, "old-mechanical"));
  gone = await endedAccount();
  const ilse = { id: served.people.ilse, role: "inspector" } as const;
  forgotten = await served.office.accounts.passwordLink(ilse, served.people.odo, served.office.clock());
  for (const role of ["inspector", "supervisor"] as const)
    await served.office.accounts.invite(role, served.people.odo, served.office.clock());
  await resultsEntered(confirmed.visit);
  contradicting = await loaded(served, "offshore-vessel", served.people.mara);
  const { store, world } = served.office;
  // Two answers that exclude each other, as two people may give them on two pages.
  const by = { who: served.people.mara, when: world.now() };
  await store.saveAnswers(
    contradicting,
    [
      { at: "/sets/1/role", value: "shaft-driven", seen: 99 },
      { at: "/sets/1/primeMover", value: "diesel", seen: 99 },
    ],
    by,
  );
  draft = world.newId();
  const frame = { format: "forehail visit 1", preparedOn: by.when.slice(0, 10), visit: {}, sets: [{ name: "Generator 1" }] };
  await store.createVisit(draft, by.who, { vessel: "", frame, sets: [1] }, [], by);
  await writePolicies();
  [reviewed, tried] = await reviewsAsked();
  [unsent, waiting, overdue] = [
    await loadedNow(served, "old-mechanical", 1),
    await loadedNow(served, "old-mechanical"),
    await loadedNow(served, "modern-electronic", 9),
  ];
  const { letter } = await sentNow(served, waiting);
  await store.keepDelivery({
    sent: letter.id,
    address: letter.to[0]?.address ?? "",
    when: world.now(),
    how: "failed",
    detail: "no answer",
  });
  await sentNow(served, overdue);
}, 120_000);
afterAll(async () => {
  await browser.close();
  await served.stop();
});

/** Somebody whose account has ended, and who was to stand in for Mara. */
const endedAccount = async (): Promise<string> => {
  const { accounts, clock, world } = served.office;
  const by = { who: served.people.odo, when: world.now() };
  const code = await accounts.invite("inspector", "console", clock());
  const tove = await accounts.takeUp(
    code,
    { name: "Tove Hallin", email: "tove@office.example", password: "six lamps by the sea" },
    clock(),
  );
  if (!tove.ok) throw new Error(tove.faults.join());
  const ended = await accounts.endAccount({ person: tove.value.id, seen: 0 }, null, by);
  if (!ended.ok) throw new Error(JSON.stringify(ended.faults));
  const today = by.when.slice(0, 10);
  const asked = { from: today, to: "2099-12-31", standsIn: served.people.odo };
  const away = await accounts.tellAbsence({ person: served.people.ilse, seen: 0 }, world.newId(), asked, by);
  if (!away.ok) throw new Error(JSON.stringify(away.faults));
  return tove.value.id;
};

/** Results as they come from aboard: as planned, otherwise, and not done for two causes. */
const resultsEntered = async (visit: string): Promise<void> => {
  const { store, world } = served.office;
  const by = { who: served.people.mara, when: world.now() };
  const on = by.when.slice(0, 10);
  const values = [
    { on, outcome: "as planned", planned: ["m"], within: "within limits" },
    { on, outcome: "by another method", planned: ["m"], by: { words: "as the yard did it" }, within: "within limits" },
    {
      on,
      outcome: "not done",
      planned: ["m"],
      why: "the technician of the maker of the governor did not come aboard before the vessel had to leave the berth",
    },
    { on, outcome: "not done", planned: ["m"], why: "no load" },
  ];
  const kept = await store.keepResults(
    visit,
    values.map((value, place) => ({ at: `/sets/1/test${place}`, value, seen: 0 })),
    by,
  );
  if (!kept.ok) throw new Error(kept.faults.join());
};

/** What a page says of what was just refused, as it goes through the address. */
const told = (message: Message): string => `said=${sealed(message, served.office.secret, served.office.clock())}`;

/** Every page in every state that a person may meet it in: its name, and how one gets there. */
const STATES: readonly (readonly [name: string, path: () => string, then?: (page: Page) => Promise<void>])[] = [
  ["visits", () => "/visits"],
  ["visits-none", () => "/visits?q=nobody"],
  ["visits-import-problem", () => `/visits?${told({ problem: "Visit file: given none; wanted a .json file" })}`],
  ["new", () => "/visits/new"],
  ["parts", () => `/visits/${old}`],
  ["parts-draft", () => `/visits/${draft}`],
  ["parts-contradicting", () => `/visits/${contradicting}`],
  ["particulars", () => `/visits/${old}/particulars`],
  [
    "particulars-errors",
    () => `/visits/${draft}/particulars`,
    async (page) => {
      await page.fill("#p-visit-vessel-imo", "1234567");
      await page.fill("#p-visit-window-from", "3/4/2027");
      await Promise.all([page.waitForEvent("load"), page.click("text=Save and continue")]);
    },
  ],
  [
    "particulars-conflict",
    () => `/visits/${bare}/particulars`,
    async (page) => {
      const owner = "/visit/vessel/owner";
      const kept = { texts: { [owner]: "Owner B" }, was: { [owner]: "Owner A" }, sets: "", alike: "no", faults: [] };
      const by = { who: served.people.mara, when: served.office.world.now() };
      await served.office.store.keepTyped(`${bare} particulars`, JSON.stringify(kept), by);
      await page.reload();
      await page.waitForSelector("#problems");
    },
  ],
  ["sets", () => `/visits/${old}/sets`],
  [
    "sets-removed",
    () => `/visits/${bare}/sets`,
    async (page) => {
      const back = page.locator("text=Put it back");
      if ((await back.count()) > 0) await Promise.all([page.waitForEvent("load"), back.click()]);
      await Promise.all([page.waitForEvent("load"), page.click("text=Take out >> nth=0")]);
    },
  ],
  ["ask-rules", () => `/visits/${old}/ask/rules`],
  ["ask-machine", () => `/visits/${bare}/ask/sets/1/machine`],
  ["ask-jacket-water", () => `/visits/${old}/ask/sets/1/jacketWaterTemperature`],
  ["ask-overspeed", () => `/visits/${old}/ask/sets/1/overspeed`],
  [
    "ask-errors",
    () => `/visits/${old}/ask/sets/1/plate`,
    async (page) => {
      await page.fill('input[name="/sets/0/plate/frequency.text"]', "sixty");
      await page.click("text=Save and continue");
      await page.waitForSelector("#problems");
    },
  ],
  [
    "ask-unlikely",
    () => `/visits/${old}/ask/sets/1/lubeOilPressure`,
    async (page) => {
      await page.fill('input[name="/sets/0/lubeOilPressure/setPoint.text"]', "8");
      await page.selectOption('select[name="/sets/0/lubeOilPressure/setPoint.unit"]', "bar");
      await page.click("text=Save and continue");
      await page.waitForSelector(".doubt");
    },
  ],
  ["ask-contradicting", () => `/visits/${contradicting}/ask/sets/1/machine`],
  ["ask-plant", () => `/visits/${old}/ask/plant`],
  ["ask-support", () => `/visits/${old}/ask/support`],
  ["check", () => `/visits/${old}/check`],
  ["board", () => `/visits/${old}/board`],
  ["day", () => `/visits/${old}/day`],
  ["day-draft", () => `/visits/${draft}/day`],
  [
    "day-errors",
    () => `/visits/${old}/day`,
    async (page) => {
      // Where it was tried before, what was wrong is still there and both stand open.
      const closed = page.locator(".day-form details:not([open]) > summary");
      while ((await closed.count()) > 0) await closed.first().click();
      await page.fill("input[name='from']", "8 o'clock");
      await page.fill("input[name='minutes.papers']", "long");
      await Promise.all([page.waitForEvent("load"), page.click("text=Keep the day so")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["board-draft", () => `/visits/${draft}/board`],
  ["board-contradicting", () => `/visits/${contradicting}/board`],
  ["test", () => `/visits/${old}/tests/1/reversePower`],
  ["test-open", () => `/visits/${bare}/tests/1/overspeed`],
  ["test-problem", () => `/visits/${old}/tests/1/reversePower?${told({ problem: "Reason: given nothing", field: "reason" })}`],
  ["policy", () => "/policy"],
  ["policy-version", () => "/policy/1"],
  ["visit-policy", () => `/visits/${old}/policy`],
  ["visit-policy-problem", () => `/visits/${old}/policy?${told({ problem: "Nothing was taken" })}`],
  ["visit-policy-waits", () => `/visits/${chosen}/policy`],
  ["results", () => `/visits/${old}/results`],
  ["results-waits", () => `/visits/${contradicting}/results`],
  [
    "results-errors",
    () => `/visits/${unsent}/results`,
    async (page) => {
      const by = { who: served.people.odo, when: served.office.world.now() };
      const words = { on: by.when.slice(0, 10), outcome: "not done", planned: [], why: "no load" };
      await served.office.store.keepResults(unsent, [{ at: "/sets/2/overspeed", value: words, seen: 0 }], by);
      const none = { outcome: "", on: words.on, method: "", way: "", why: "", number: "", unit: "", within: "", words: "", planned: "" };
      const [half, other] = [
        { ...none, outcome: "by another method" },
        { ...none, outcome: "not done", why: "no technician" },
      ];
      const typed = JSON.stringify({ "/sets/1/overspeed": half, "/sets/2/overspeed": other });
      await served.office.store.keepTyped(`${unsent} results`, typed, { who: served.people.mara, when: by.when });
      await page.reload();
      await page.waitForSelector("#problems");
    },
  ],
  ["letter", () => `/visits/${old}/letter`],
  ["letter-page", () => `/visits/${old}/letter/page`],
  [
    "letter-send-errors",
    () => `/visits/${unsent}/letter`,
    async (page) => {
      await page.fill("#name-1", "The chief engineer");
      await page.click("text=Send letter 1");
      await page.waitForSelector("#problems");
    },
  ],
  ["exchange-none", () => `/visits/${unsent}/exchange`],
  [
    "exchange",
    () => `/visits/${waiting}/exchange`,
    async (page) => {
      for (const summary of await page.locator("summary").all()) await summary.click();
    },
  ],
  [
    "exchange-problem",
    () => `/visits/${waiting}/exchange`,
    async (page) => {
      await page.click("summary:text-is('Renew') >> nth=0");
      await page.fill("input[name=until] >> nth=0", "yesterday");
      await page.click("text=Renew: a new one in its place >> nth=0");
      await page.waitForSelector("#problems");
    },
  ],
  [
    "exchange-links",
    () => `/visits/${overdue}/exchange`,
    async (page) => {
      await page.click("summary:text-is('Renew') >> nth=0");
      await page.uncheck("input[name=mail] >> nth=0");
      await page.click("text=Renew: a new one in its place >> nth=0");
      await page.waitForSelector(".once");
    },
  ],
  ["letter-waits", () => `/visits/${draft}/letter`],
  ["reply-load", () => `/visits/${open.visit}/exchange/${open.id}`],
  [
    "reply-problem",
    () => `/visits/${open.visit}/exchange/${open.id}`,
    async (page) => {
      await page.fill("#mail", "Nothing in it");
      await Promise.all([page.waitForEvent("load"), page.click("text=Read it")]);
    },
  ],
  ["reply-read", () => `/visits/${read.visit}/exchange/${read.id}`],
  ["reply-take-in", () => `/visits/${confirmed.visit}/exchange/${confirmed.id}`],
  ["reply-undecided", () => `/visits/${confirmed.visit}/exchange/${confirmed.id}?tried=1`],
  ["record", () => `/visits/${confirmed.visit}/record`],
  ["again", () => `/visits/${old}/again`],
  ["again-problem", () => `/visits/${old}/again?${told({ problem: "Look through the list" })}`],
  ["rulebook", () => "/rulebook"],
  ["rulebook-found", () => "/rulebook?find=bleed"],
  ["rulebook-found-none", () => "/rulebook?find=zebra"],
  ["rulebook-questions", () => "/rulebook/questions"],
  ["rulebook-protection", () => "/rulebook/protections/lubeOilPressure"],
  ["rulebook-method", () => "/rulebook/methods/lo-maker-threshold"],
  ["rulebook-basis", () => "/rulebook/bases/46-CFR-61-40"],
  ["rulebook-caution", () => "/rulebook/cautions/blind-channel"],
  ["rulebook-question", () => "/rulebook/questions/sets-lubeOilPressure-testPoint"],
  ["rulebook-figure", () => "/rulebook/figures/overspeed?sum=limit&rated=1800+rpm&drives=generator"],
  ["rulebook-figure-errors", () => "/rulebook/figures/reversePower?sum=band&mover=diesel&rated=22+psi"],
  ["account", () => "/account"],
  ["account-problem", () => `/account?${told({ problem: "The present password is not right", field: "present" })}`],
  [
    "account-absence-problem",
    () => `/account?${told({ problem: "Last day: given nothing; wanted a day such as 2026-12-03", field: "to", typed: "2026-12-01\n\n" })}`,
  ],
  ["privacy", () => "/privacy"],
  ["no-such-page", () => "/visits/none-of-ours"],
];

const AS_SUPERVISOR: typeof STATES = [
  ["reviews", () => "/reviews"],
  ["review", () => `/visits/${reviewed}/review`],
  ["review-plain", () => `/visits/${bare}/review`],
  [
    "review-errors",
    () => `/visits/${reviewed}/review`,
    async (page) => {
      await Promise.all([page.waitForEvent("load"), page.click("text=Send back")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["consistency", () => "/consistency"],
  ["consistency-none", () => "/consistency?vessel=nobody&from=2020-01-01"],
  ["consistency-problem", () => "/consistency?from=spring&to=x"],
  [
    "consistency-errors",
    () => "/consistency",
    async (page) => {
      await page.click("text=Settle it >> nth=0");
      await Promise.all([page.waitForEvent("load"), page.click("button:text('Settle') >> nth=0")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["what-if", () => "/what-if?policy=2"],
  [
    "what-if-errors",
    () => "/what-if",
    async (page) => {
      await Promise.all([page.waitForEvent("load"), page.click("button:text('Try it on all plans') >> nth=2")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["what-if-tried", () => `/what-if/${tried}`],
  ["policy-supervisor", () => "/policy"],
  ["policy-draft", () => "/policy/2"],
  [
    "policy-adopt-errors",
    () => "/policy/2",
    async (page) => {
      await page.fill("#from", "3/4/2027");
      await Promise.all([page.waitForEvent("load"), page.click("text=Adopt this policy")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["policy-change", () => "/policy/change?from=1"],
  [
    "policy-change-errors",
    () => "/policy/change?from=1",
    async (page) => {
      await page.fill("#loadLimit", "120 %");
      await page.fill("#holidays", "2026-12-25\n3/4/2027");
      for (const box of await page.locator("input[name=workingDays]").all()) await box.uncheck();
      await Promise.all([page.waitForEvent("load"), page.click("text=Keep as a draft")]);
      await page.waitForSelector("#problems");
    },
  ],
  [
    "policy-refused",
    () => "/policy/change?from=1",
    async (page) => {
      await page.selectOption("#part-wiring", "no");
      await page.fill("#coldTemperature", "140 °F");
      await page.check("#leaveOut-handStop");
      await Promise.all([page.waitForEvent("load"), page.click("text=Keep as a draft")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["people", () => "/people"],
  ["people-told-before", () => "/people?link=gone"],
  [
    "people-made",
    () => "/people",
    async (page) => {
      await Promise.all([page.waitForEvent("load"), page.click("text=Make a link")]);
      await page.waitForSelector(".note .code");
    },
  ],
  ["people-withdrawn", () => `/people?${told({ done: "Withdrawn: link 3f9c2a opens nothing any more." })}`],
  ["person", () => `/people/${served.people.mara}`],
  ["person-password-told-before", () => `/people/${served.people.mara}?link=gone`],
  [
    "person-password-made",
    () => `/people/${served.people.mara}`,
    async (page) => {
      await Promise.all([page.waitForEvent("load"), page.click("form[action$='/password'] button")]);
      await page.waitForSelector(".note .code");
    },
  ],
  ["person-away", () => `/people/${served.people.ilse}`],
  ["person-self", () => `/people/${served.people.odo}`],
  ["person-ended", () => `/people/${gone}`],
  [
    "person-who-takes-over",
    () => `/people/${served.people.mara}`,
    async (page) => {
      await page.click("text=Hand over and end the account");
      await page.waitForSelector("#takes-over-fault");
    },
  ],
  [
    "person-absence-problem",
    () => `/people/${served.people.mara}`,
    async (page) => {
      await page.fill("#from", "next week");
      await page.fill("#to", "2099-01-01");
      await page.click("text=Keep the absence");
      await page.waitForSelector("#from-fault");
    },
  ],
  [
    "person-hand-over-problem",
    () => `/people/${served.people.mara}`,
    async (page) => {
      await page.check("input[name=visit] >> nth=0");
      await page.click("text=Hand over the ticked ones");
      await page.waitForSelector("#hand-to-fault");
    },
  ],
  ["over-time", () => "/over-time"],
  ["over-time-none", () => "/over-time?from=2020-01&to=2020-03"],
  ["over-time-problem", () => "/over-time?from=spring&to=2026-13"],
  ["over-time-long", () => "/over-time?from=2024-06&to=2027-05"],
  ["over-time-visits", () => "/over-time/visits?what=tests"],
  ["over-time-causes", () => "/over-time/visits?what=causes&cause=no+load"],
  ["privacy-supervisor", () => `/privacy?${told({ done: "Erased. What stays is of “Erased person 0a1b2c3d”.\nRows changed: 12." })}`],
  ["privacy-person", () => `/privacy/person?who=${encodeURIComponent("chief@ship.example")}`],
  ["privacy-person-account", () => `/privacy/person?who=${served.people.mara}`],
  [
    "privacy-person-errors",
    () => `/privacy/person?who=${served.people.mara}`,
    async (page) => {
      await Promise.all([page.waitForEvent("load"), page.click("text=Erase the person")]);
      await page.waitForSelector("#problems");
    },
  ],
  ["privacy-person-none", () => "/privacy/person?who=nobody"],
  ["privacy-visits", () => "/privacy/visits?years=1"],
  [
    "privacy-visits-errors",
    () => `/privacy/visits?${told({ problem: "Visits: given none; wanted at least one ticked", field: "visits" })}`,
  ],
  ["log", () => "/log"],
  ["log-filtered", () => `/log?who=${served.people.mara}&act=refused`],
  ["log-none", () => "/log?act=never"],
  ["visits-supervisor", () => "/visits"],
];

const AS_NOBODY: typeof STATES = [
  ["sign-in", () => "/sign-in"],
  ["sign-in-done", () => `/sign-in?${told({ done: "Your password is changed." })}`],
  ["sign-in-problem", () => `/sign-in?out=1&${told({ problem: "E-mail address and password do not belong together" })}`],
  ["join-refused", () => "/join?code=none"],
  ["join-password", () => `/join?code=${forgotten}`],
  [
    "join-password-problem",
    () => `/join?code=${forgotten}`,
    async (page) => {
      await page.fill("#password", "short");
      await Promise.all([page.waitForEvent("load"), page.click("text=Set the password")]);
      await page.waitForSelector("#password-fault");
    },
  ],
];

/** How a page is looked at: wide, dark, at 320 px as on a small phone or at 400 % zoom, with colours of the reader's own. */
const LOOKS = [
  ["light", {}],
  ["narrow", { viewport: { width: 320, height: 640 } }],
  ["dark", { colorScheme: "dark" }],
  ["forced", { forcedColors: "active" }],
] as const;

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** What can only come of a look, and is looked for in it; in the first everything is. */
const RULES_OF: Readonly<Record<string, readonly string[]>> = {
  dark: ["color-contrast"],
  narrow: ["target-size", "meta-viewport"],
};

/** The states that between them hold every component: looked at in colours of night and of the reader's own too. */
const KINDS = [
  "visits",
  "particulars-errors",
  "sets-removed",
  "ask-jacket-water",
  "ask-unlikely",
  "ask-contradicting",
  "check",
  "board",
  "test",
  "letter",
  "letter-send-errors",
  "exchange",
  "day-errors",
  "exchange-links",
  "reply-undecided",
  "record",
  "results-errors",
  "policy",
  "policy-refused",
  "visit-policy",
];

const wrongOn = async (page: Page, look: string): Promise<readonly string[]> => {
  // The letter in its frame is a page of its own, looked at by itself.
  const axe = new AxeBuilder({ page }).exclude("iframe");
  const rules = RULES_OF[look];
  const { violations } = await (rules === undefined ? axe.withTags(TAGS) : axe.withRules([...rules])).analyze();
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary }) => `${id} ${target.join(" ")}: ${failureSummary ?? ""}`),
  );
};

/** Whether anything makes the whole page scroll sideways. */
const sideways = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth + 1);

const look = async ({ page, complaints }: Visitor, look: string, states: typeof STATES): Promise<readonly string[]> => {
  const wrong: string[] = [];
  const every = look === "light" || look === "narrow";
  for (const [name, path, then] of states.filter(([state]) => every || KINDS.includes(state))) {
    await page.goto(served.url + path(), { waitUntil: "load" });
    if (then !== undefined) await then(page);
    if (look !== "forced") wrong.push(...(await wrongOn(page, look)).map((fault) => `${name} ${look}: ${fault}`));
    if (await sideways(page)) wrong.push(`${name} ${look}: the page scrolls sideways`);
    await picture(page, `${name}-${look}`);
  }
  // A page that is none answers 404, as it should; that is all the browser may say.
  wrong.push(...complaints.filter((said) => !said.includes("404")).map((said) => `${look}: ${said}`));
  return wrong;
};

describe("every page in every state", () => {
  test.each(LOOKS)(
    "%s: axe reports nothing, nothing scrolls sideways, the browser complains of nothing",
    async (name, options) => {
      const wrong: string[] = [];
      for (const [who, states] of [
        ["mara", STATES],
        ["odo", AS_SUPERVISOR],
        [null, AS_NOBODY],
      ] as const) {
        const visitor = await newVisitor(browser, options);
        if (who !== null) await signIn(visitor.page, served.url, who);
        wrong.push(...(await look(visitor, name, states)));
        await visitor.context.close();
      }
      expect(wrong).toEqual([]);
    },
    900_000,
  );
});

test("the Nu HTML checker reports no error on any page as the server sends it", async () => {
  const folder = join(scratch(), "html");
  mkdirSync(folder);
  const visitor = await newVisitor(browser, { javaScriptEnabled: false });
  await signIn(visitor.page, served.url, "mara");
  for (const [name, path] of STATES) {
    const answer = await visitor.context.request.get(served.url + path());
    writeFileSync(join(folder, `${name}.html`), await answer.text());
  }
  const page = await visitor.context.request.get(`${served.url}/visits/${old}/letter/page`);
  writeFileSync(join(folder, "letter-page.html"), await page.text());
  await visitor.context.close();
  expect(nuErrors(folder)).toEqual([]);
}, 300_000);
