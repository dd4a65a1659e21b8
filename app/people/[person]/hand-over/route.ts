import { textIn, writeOfPerson } from "../../../_server/gate.ts";
import { aboutPerson } from "../../../_server/personForm.ts";

const MOST = 2_000;

export const POST = writeOfPerson(
  "POST /people/[person]/hand-over",
  aboutPerson(async ({ office, form, log }, { id, name }) => {
    const to = textIn(form, "to");
    const open = (await office.store.openVisits(office.world.now().slice(0, 10), id)).map((visit) => visit.id);
    const ticked = form.getAll("visit").map(String).slice(0, MOST);
    const visits = textIn(form, "all") === "yes" ? open : ticked;
    const typed = [to, ...ticked].join("\n");
    if (visits.length === 0) return { problem: "Open visits: given none; wanted at least one ticked", field: "visits", typed };
    const heir = (await office.accounts.people()).find((one) => one.id === to && one.ended === undefined && one.id !== id);
    if (heir === undefined) return { problem: "To whom: given nobody; wanted one of the list", field: "hand-to", typed };
    const done = await office.store.handOver(visits, id, to);
    if (!done.ok) return { problem: done.faults.join("; "), field: "visits", typed };
    for (const visit of visits) await log("handed over", visit, `from ${name} to ${heir.name}`);
    await log("visits taken over", to, `${visits.length} from ${name}`);
    await log("visits handed over", id, `${visits.length} to ${heir.name}`);
    return { done: `${visits.length === 1 ? "One visit is" : `${visits.length} visits are`} ${heir.name}’s now.` };
  }),
);
