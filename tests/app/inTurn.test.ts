import { setTimeout as pause } from "node:timers/promises";
import { beforeAll, expect, test, vi } from "vitest";
import { goesOnInTurn, paperInTurn } from "../../app/_server/inTurn.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { opened } from "../store/engines.ts";

const BACK = "/visits/v1/letter";
const ASKED = new Request(`https://plans.example${BACK}`, { headers: { "x-forehail-request": "r7" } });
const goneTo = (location: string): Response => new Response(null, { status: 303, headers: { location } });

let office: Office;
beforeAll(async () => {
  const store = await opened(":memory:");
  // Of the office only what hides things for a while is asked for here.
  office = { store, secret: "a secret of the office, for tests only", clock: () => Date.now() } as Office;
});

test("what is done at once is answered as if nobody had waited", async () => {
  const answer = await goesOnInTurn(ASKED, BACK, () => Promise.resolve(goneTo("/visits/v1/letter?made=m1")));
  expect([answer.status, answer.headers.get("location")]).toEqual([303, "/visits/v1/letter?made=m1"]);
});

test("what takes long tells its place as it changes, and goes on by itself without a script", async () => {
  const answer = await goesOnInTurn(ASKED, BACK, async (tell) => {
    tell(2);
    await pause(1_800);
    tell(1);
    await pause(600);
    tell(0);
    await pause(600);
    return goneTo('/visits/v1/letter?made=m1&units="us"');
  });
  expect([answer.status, answer.headers.get("x-forehail-streamed")]).toEqual([200, "1"]);
  const text = await answer.text();
  const places = ["2 papers are laid out before it.", "One paper is laid out before it.", "It is being laid out now.", "It is done."];
  expect(places.map((words) => text.indexOf(words)).every((at, place, all) => at > (all[place - 1] ?? 0))).toBe(true);
  expect(text).toContain('<meta http-equiv="refresh" content="0;url=/visits/v1/letter?made=m1&#38;units=&#34;us&#34;">');
  expect(text).not.toContain("<script");
});

test("what fails while somebody waits is told, with the way back, and stands in the log under its number", async () => {
  const log = vi.spyOn(process.stdout, "write").mockReturnValue(true);
  const answer = await goesOnInTurn(ASKED, BACK, async () => {
    await pause(1_700);
    throw new Error("a reason that is nobody’s business");
  });
  const text = await answer.text();
  const lines = log.mock.calls.map(([line]) => String(line)).filter((line) => line.includes("page that waited failed"));
  log.mockRestore();
  expect(lines).toHaveLength(1);
  expect(JSON.parse(lines[0] ?? "")).toMatchObject({ level: "error", request: "r7", error: "Error" });
  expect(lines[0]).not.toContain("nobody’s business");
  expect(text).toContain(`Something went wrong in the program. <a href="${BACK}">`);
  expect(text).not.toContain("nobody’s business");
  expect(text).not.toContain("http-equiv");
});

test("where the database goes away while somebody waits, that is told", async () => {
  const log = vi.spyOn(process.stdout, "write").mockReturnValue(true);
  const answer = await goesOnInTurn(ASKED, BACK, async () => {
    await pause(1_700);
    throw Object.assign(new Error("terminating connection"), { code: "57P01" });
  });
  const text = await answer.text();
  log.mockRestore();
  expect(text).toMatch(/<p>For now the office(?:'|&#39;)s database cannot be reached\. <a href/);
});

test("whoever leaves the page does not stop what he asked for", async () => {
  let done = false;
  const answer = await goesOnInTurn(ASKED, BACK, async () => {
    await pause(2_200);
    done = true;
    return goneTo(BACK);
  });
  await answer.body?.cancel();
  await pause(1_200);
  expect(done).toBe(true);
});

test("a paper that took long is handed over once it is asked for by the page that waited, to whom it is for, and once", async () => {
  const address = "https://plans.example/visits/v1/lists/sheets.pdf?units=us";
  const paper = Buffer.from([37, 80, 68, 70, 0, 255]);
  const slow = async (): Promise<Response> => {
    await pause(1_700);
    return new Response(paper, { status: 200, headers: { "content-type": "application/pdf", "cache-control": "no-store" } });
  };
  const waited = await (await paperInTurn(office, new Request(address), "mara", slow)).text();
  const next = /url=([^"]*)"/.exec(waited)?.[1]?.replaceAll("&#38;", "&") ?? "";
  expect(next).toMatch(/^\/visits\/v1\/lists\/sheets\.pdf\?units=us&ready=[\w-]{43}$/);
  const ready = new Request(new URL(next, address));
  const asked = (person: string) => paperInTurn(office, ready, person, () => Promise.resolve(new Response("made anew")));
  expect(await (await asked("odo")).text()).toBe("made anew");
  const handed = await asked("mara");
  expect(handed.headers.get("content-type")).toBe("application/pdf");
  expect(Buffer.from(await handed.arrayBuffer())).toEqual(paper);
  expect(await (await asked("mara")).text()).toBe("made anew");
});
