import { readFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { formToken } from "../../lib/access/formToken.ts";
import { markOf } from "../../lib/access/invitation.ts";
import { replySession } from "../../lib/access/replyLink.ts";
import { DEMO_PASSWORD } from "../../lib/cli/demoPeople.ts";
import { replySteps } from "../../lib/reply/steps.ts";
import { askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import { newRandom } from "../bench/random.ts";
import { loadedNow, sentNow } from "../browser/sent.ts";
import { type Served, serve } from "../browser/server.ts";
import { answers } from "./crash/inspectors.ts";
import { numberPages } from "./crash/pages.ts";
import { step } from "./crash/recipients.ts";
import { SECRET } from "./crash/server.ts";
import { posted, type Write } from "./crash/write.ts";

/**
 * `npm run load -- [--minutes N] [--bend]`: fifty inspectors and two hundred vessel offices, each asking once every ten seconds, of one copy of the program on the
 * embedded database; with `--bend` then more and more of them, until pages take longer than is wanted.
 */

const INSPECTORS = 50;
const VESSELS = 200;
/** Each asks once in so many milliseconds. */
const EVERY = 10_000;
const WANTED_P95 = 300;
/** Memory is looked at once in so many milliseconds. */
const SAMPLED = 5_000;
/** Five minutes are asked for; twice as many show whether memory stays, since garbage is let lie until the heap has reached its working size (some four minutes). */
const MINUTES = 10;
const WARM = 20_000;

/** What one person does: something of his, by its name. */
interface Ask {
  readonly name: string;
  readonly go: () => Promise<boolean>;
}
type Person = () => Ask;

const random = newRandom(20_261_127);
const drawn = <Of>(list: readonly (readonly [share: number, of: Of])[]): Of => {
  let left = random() * list.reduce((sum, [share]) => sum + share, 0);
  const found = list.find(([share]) => {
    left -= share;
    return left < 0;
  });
  return (found ?? list[0])?.[1] as Of;
};

/** As a proxy in front hands on requests of people at addresses of their own. */
const addressOf = (person: number): string => `198.18.${Math.floor(person / 250)}.${(person % 250) + 1}`;

const looked = (url: string, cookie: string, from: string) => async (): Promise<boolean> => {
  const answer = await fetch(url, { headers: { cookie, "x-forwarded-for": from }, redirect: "manual" });
  await answer.arrayBuffer();
  return answer.status === 200;
};

const taken = async (write: Write): Promise<boolean> => (await write.send()) === true;

const inspector = async (served: Served, number: number): Promise<Person> => {
  const { accounts, clock } = served.office;
  const email = `inspector${number}@office.example`;
  const code = await accounts.invite("inspector", "console", clock());
  const made = await accounts.takeUp(code, { name: `Inspector ${number}`, email, password: DEMO_PASSWORD }, clock());
  const signedIn = await accounts.signIn(email, DEMO_PASSWORD, addressOf(number), clock());
  if (!made.ok || !signedIn.ok) throw new Error("no account");
  const cookie = signedIn.value.cookies.map((one) => one.split(";")[0]).join("; ");
  const member = { id: made.value.id, cookie, from: addressOf(number) };
  const visit = await loadedNow(
    { ...served, people: { ...served.people, mara: member.id } },
    number % 2 === 0 ? "old-mechanical" : "modern-electronic",
    3,
  );
  const [page] = await numberPages(served.office, visit);
  if (page === undefined) throw new Error("no page of numbers");
  const at = `${served.url}/visits/${visit}`;
  const look = (path: string) => looked(`${at}${path}`, cookie, addressOf(number));
  const making = async (): Promise<boolean> => {
    const form = new URLSearchParams({ token: formToken(member.id, SECRET, Date.now()), units: "metric" });
    const answer = await posted(`${at}/letter/make`, form, member);
    const text = await answer.text();
    return answer.status === 303 || text.includes("It is done.");
  };
  let count = number * 100;
  return () => {
    count += 1;
    const saving = answers(served.url, member, page, count % 20_000, true);
    return drawn<Ask>([
      [15, { name: "list of visits", go: looked(`${served.url}/visits`, cookie, addressOf(number)) }],
      [25, { name: "page of questions", go: look(`/ask/${page.path}`) }],
      [28, { name: "answers saved", go: () => taken(saving) }],
      [15, { name: "board", go: look("/board") }],
      [10, { name: "exchange", go: look("/exchange") }],
      [5, { name: "day", go: look("/day") }],
      [2, { name: "letter made", go: making }],
    ]);
  };
};

const vessel = async (served: Served, number: number): Promise<Person> => {
  const sent = await sentNow(served, await loadedNow(served, "old-mechanical"));
  const mark = markOf(sent.links[0]?.link.split("/").at(-1) ?? "");
  const cookie = `forehail-reply=${replySession(mark, SECRET, Date.now())}`;
  const pages = replySteps(askedThen(sent.letter.asked));
  let count = 0;
  return () => {
    count += 1;
    const page = pages[Math.floor(random() * pages.length)]?.id ?? "start";
    return drawn<Ask>([
      [50, { name: "reply page", go: looked(`${served.url}/reply/at/${page}`, cookie, addressOf(INSPECTORS + number)) }],
      [40, { name: "reply saved", go: () => taken(step(served.url, sent, 0, count, addressOf(INSPECTORS + number))) }],
      [10, { name: "reply begun", go: looked(`${served.url}/reply`, cookie, addressOf(INSPECTORS + number)) }],
    ]);
  };
};

interface Measured {
  readonly times: ReadonlyMap<string, readonly number[]>;
  readonly failed: readonly string[];
  /** Resident memory, in MiB, as it went. */
  readonly memory: readonly number[];
  /** Heap in use without the workers, in MiB, as it went; what is not collected yet is part of it. */
  readonly heap: readonly number[];
}

/** Seconds of processor time that a process has had; the kernel counts in hundredths. */
const processorOf = (pid: number): number => {
  const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ").at(-1)?.split(" ") ?? [];
  return (Number(fields[11]) + Number(fields[12])) / 100;
};

const residentOf = (pid: number): number => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1] ?? 0) / 1024;

const heapOf = async (url: string): Promise<number> =>
  Number(/^nodejs_heap_size_used_bytes (\S+)/m.exec(await (await fetch(`${url}/metrics`)).text())?.[1] ?? 0) / 2 ** 20;

/** Lets everybody ask in his own time, whether or not he was answered before: who waits does not ask less. */
const under = async ({ url, copies }: Served, people: readonly Person[], ms: number, times: number): Promise<Measured> => {
  const measured = new Map<string, number[]>();
  const [failed, memory, heap]: [string[], number[], number[]] = [[], [], []];
  const asking: Promise<void>[] = [];
  const ask = async ({ name, go }: Ask, due: number): Promise<void> => {
    const done = await go().catch(() => false);
    measured.set(name, [...(measured.get(name) ?? []), performance.now() - due]);
    if (!done) failed.push(name);
  };
  const start = performance.now();
  const gap = EVERY / (people.length * times);
  for (let turn = 0; turn * gap < ms; turn += 1) {
    const due = start + turn * gap;
    await pause(Math.max(0, due - performance.now()));
    asking.push(ask((people[turn % people.length] as Person)(), due));
    if (turn % Math.max(1, Math.round(SAMPLED / gap)) === 0) {
      memory.push(residentOf(copies[0]?.pid ?? 0));
      void heapOf(url).then((one) => heap.push(one));
    }
  }
  await Promise.all(asking);
  return { times: measured, failed, memory, heap };
};

const share = (times: readonly number[], part: number): number =>
  [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * part))] ?? 0;

const line = (name: string, times: readonly number[]): string =>
  `  ${name.padEnd(20)} ${String(times.length).padStart(6)}   median ${share(times, 0.5).toFixed(0).padStart(5)} ms   p95 ${share(times, 0.95).toFixed(0).padStart(5)} ms   worst ${share(times, 1).toFixed(0).padStart(5)} ms`;

/** Papers are laid out in turn and tell their place; all else is a page that somebody waits for. */
const pagesOf = ({ times }: Measured): readonly number[] => [...times].flatMap(([name, of]) => (name === "letter made" ? [] : of));

const thirds = (memory: readonly number[]): readonly (readonly number[])[] => {
  const third = Math.floor(memory.length / 3);
  return [memory.slice(0, third), memory.slice(third, 2 * third), memory.slice(-third)];
};

/** Memory in the last third over memory in the middle third: 1 where it stays. */
const growth = (memory: readonly number[]): number => {
  const mean = (list: readonly number[] = []): number => list.reduce((sum, one) => sum + one, 0) / Math.max(1, list.length);
  const [, middle, last] = thirds(memory);
  return mean(last) / mean(middle);
};

/** Resident memory once a minute. */
const byMinute = (memory: readonly number[]): string =>
  memory
    .filter((_, place) => place % (60_000 / SAMPLED) === 0)
    .map((one) => one.toFixed(0))
    .join(", ");

/** What was left right after a collection, third by third. */
const floors = (heap: readonly number[]): string =>
  thirds(heap)
    .map((list) => Math.min(...list).toFixed(0))
    .join(", ");

const show = (text: string): void => {
  process.stdout.write(`${text}\n`);
};

const minutes = Number(process.argv[process.argv.indexOf("--minutes") + 1]) || MINUTES;
const served = await serve({ copies: 1, more: { FOREHAIL_SECRET: SECRET, FOREHAIL_PROXIES: "127.0.0.1, ::1", FOREHAIL_LOG: "error" } });
const people: Person[] = [];
for (let number = 0; number < VESSELS; number += 1) people.push(await vessel(served, number));
for (let number = 0; number < INSPECTORS; number += 1) people.push(await inspector(served, number));
// Who asks when is by lot, not first all vessels and then all inspectors.
people.sort(() => random() - 0.5);
const pid = served.copies[0]?.pid ?? 0;
await under(served, people, WARM, 1);
const before = processorOf(pid);
const measured = await under(served, people, minutes * 60_000, 1);
const processor = processorOf(pid) - before;
show(
  `${INSPECTORS} inspectors and ${VESSELS} vessel offices, one request each every ${EVERY / 1000} s, ${minutes} min, one copy on SQLite`,
);
for (const [name, times] of [...measured.times].sort(([a], [b]) => a.localeCompare(b))) show(line(name, times));
const p95 = share(pagesOf(measured), 0.95);
show(line("all but letters", pagesOf(measured)));
const asked = [...measured.times.values()].flat().length;
show(`  processor ${((1000 * processor) / asked).toFixed(0)} ms a request, ${((100 * processor) / (minutes * 60)).toFixed(0)} % of one`);
show(`  errors ${measured.failed.length}${measured.failed.length > 0 ? `: ${[...new Set(measured.failed)].join(", ")}` : ""}`);
show(
  `  memory ${byMinute(measured.memory)} MiB from minute to minute, at most ${Math.max(...measured.memory).toFixed(0)}; last third over middle third ${growth(measured.memory).toFixed(3)}`,
);
show(`  heap after collections: ${floors(measured.heap)} MiB at least in the first, middle and last third`);
const wrong = p95 > WANTED_P95 || measured.failed.length > 0 || growth(measured.memory) > 1.1;
if (process.argv.includes("--bend")) {
  let bends = "not up to 8 times as many";
  for (const times of [1.25, 1.5, 1.75, 2, 3, 4, 6, 8]) {
    const more = await under(served, people, 40_000, times);
    const there = share(pagesOf(more), 0.95);
    const at = `${times} times as many, ${(people.length * times) / (EVERY / 1000)} requests a second: p95 ${there.toFixed(0)} ms, errors ${more.failed.length}`;
    show(`  ${at}`);
    if (there <= WANTED_P95 && more.failed.length === 0) continue;
    bends = at;
    break;
  }
  show(`  bends: ${bends}`);
}
await served.stop();
if (p95 > WANTED_P95) show(`p95 ${p95.toFixed(0)} ms; wanted at most ${WANTED_P95}`);
process.exit(wrong ? 1 : 0);
