import { formToken } from "../../../lib/access/formToken.ts";
import { numberOf, type Page } from "./pages.ts";
import { SECRET } from "./server.ts";
import type { Member, Stage } from "./stage.ts";
import { posted, togetherOf, type Write } from "./write.ts";

/** Whoever answers wrote after everybody: what each writes on his page nobody else writes. */
const SEEN = "999999999";

export const tokenOf = ({ id }: Member): string => formToken(id, SECRET, Date.now());

const answerForm = (member: Member, { sets, fields }: Page, texts: (place: number) => string): URLSearchParams => {
  const form = new URLSearchParams({ token: tokenOf(member), sets });
  fields.forEach(({ at }, place) => {
    form.set(`${at}.text`, texts(place));
    form.set(`${at}.seen`, SEEN);
    form.set(`${at}.sure`, "on");
  });
  return form;
};

/** Answers several questions of a page: by the script while somebody types, or by the page's button. */
export const answers = (url: string, member: Member, page: Page, count: number, json: boolean): Write => {
  const numbers = page.fields.map((field) => numberOf(field, count));
  const form = answerForm(member, page, (place) => String(numbers[place]));
  const rowsIn: Write["times"] = async (db) => {
    const rows = await db.selectFrom("answer").select(["at", "version", "value"]).where("visit", "=", page.visit).execute();
    return rows.filter(({ at, value }) => page.fields.some(({ kept }, place) => kept === at && value === String(numbers[place]))).length;
  };
  return {
    kind: json ? "answers by the script" : "answers by the form",
    what: `${page.path} of ${page.visit}, try ${count}`,
    send: async () => {
      const answer = await posted(`${url}/visits/${page.visit}/save/${page.path}`, form, { ...member, json });
      if (!json) return answer.status === 303 && !(answer.headers.get("location") ?? "").includes("#problems");
      const told = (await answer.json()) as { readonly faults?: readonly unknown[]; readonly conflicts?: readonly unknown[] };
      return answer.status === 200 && told.faults?.length === 0 && told.conflicts?.length === 0;
    },
    found: async (db) => togetherOf(await rowsIn(db), page.fields.length, "answers"),
    times: async (db) => (await rowsIn(db)) / page.fields.length,
  };
};

/** Types what is no answer, which is kept as typed. What was typed later stands in its place. */
export const typing = (url: string, member: Member, page: Page, count: number): Write => {
  const form = answerForm(member, page, () => `about ${count} or so`);
  const typedIn: Write["times"] = async (db) => {
    const rows = await db
      .selectFrom("typed")
      .select(["page", "text"])
      .where("who", "=", member.id)
      .where("page", "like", `${page.visit} %`)
      .execute();
    const counts = rows.flatMap(({ text }) => [...text.matchAll(/about (\d+) or so/g)].map(([, number]) => Number(number)));
    return counts.filter((one) => one >= count).length;
  };
  return {
    kind: "typed text",
    what: `${page.path} of ${page.visit}, try ${count}`,
    send: async () => {
      const answer = await posted(`${url}/visits/${page.visit}/save/${page.path}`, form, { cookie: member.cookie, json: true });
      const told = (await answer.json()) as { readonly faults?: readonly unknown[] };
      return answer.status === 200 && told.faults?.length === page.fields.length;
    },
    found: async (db) => togetherOf(await typedIn(db), page.fields.length, "typed fields"),
    times: async (db) => (await typedIn(db)) / page.fields.length,
  };
};

const TESTS = ["/sets/1/lubeOilPressure", "/sets/1/jacketWaterTemperature"] as const;

/** Enters what became of two tests aboard. */
export const results = (url: string, member: Member, { tested }: Pick<Stage, "tested">, count: number): Write => {
  const why = `The sea did not allow it (${count})`;
  const form = new URLSearchParams({ token: tokenOf(member) });
  for (const at of TESTS) {
    form.set(`${at}.outcome`, "not done");
    form.set(`${at}.on`, new Date().toISOString().slice(0, 10));
    form.set(`${at}.why`, why);
    form.set(`${at}.seen`, SEEN);
  }
  const rowsIn: Write["times"] = async (db) => {
    const rows = await db.selectFrom("result").select(["at", "value"]).where("visit", "=", tested).execute();
    return rows.filter(({ value }) => value !== null && (JSON.parse(value) as { readonly why?: string }).why === why).length;
  };
  return {
    kind: "results",
    what: `of ${tested}, try ${count}`,
    send: async () => {
      const answer = await posted(`${url}/visits/${tested}/results/keep`, form, { cookie: member.cookie, json: true });
      const { tests = {} } = (await answer.json()) as { readonly tests?: Readonly<Record<string, { readonly words: string }>> };
      return answer.status === 200 && TESTS.every((at) => tests[at]?.words.includes(why));
    },
    found: async (db) => togetherOf(await rowsIn(db), TESTS.length, "results"),
    times: async (db) => (await rowsIn(db)) / TESTS.length,
  };
};
