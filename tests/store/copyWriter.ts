// Writes to an office without end, as a busy server does, and tells on standard output what it has been acknowledged.

import { openDatabase } from "../../lib/store/database.ts";
import { storeOn } from "../../lib/store/open.ts";

const open = await openDatabase(process.argv[2] ?? "");
if (!open.ok) throw new Error(open.faults.join());
const store = storeOn(open.value.db);
const by = { who: "anna", when: "2026-03-02T08:00:00.000Z" };
const LONG = "a long answer ".repeat(400);
for (const id of ["v1", "v2"]) {
  const frame = { vessel: "Sundalis Reach", frame: {}, sets: [1] };
  await store.createVisit(id, "anna", frame, [{ at: "/a", value: "first" }], by);
}
for (let seen = 1; ; seen += 1) {
  for (const id of ["v1", "v2"]) {
    const saved = await store.saveAnswers(id, [{ at: "/a", value: `${seen} ${LONG}`, seen }], by);
    if (!saved.ok) throw new Error(saved.faults.join());
  }
  await store.audit({ ...by, act: "counted", subject: "", detail: String(seen + 1) });
  await new Promise<void>((told) => process.stdout.write(`${seen + 1}\n`, () => told()));
}
