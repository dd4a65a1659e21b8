import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { officePolicySchema } from "../model/officePolicy.ts";
import { type Environment, openOffice } from "../usecases/office.ts";
import { importVisit } from "../usecases/visits/importVisit.ts";
import { movedTo } from "./demoDates.ts";
import { DEMO_PASSWORD, DEMO_PEOPLE, makeDemoPeople } from "./demoPeople.ts";

const VISITS = "fixtures/visits";

const LETTERHEAD = {
  name: "Tallowmere Survey Office",
  address: ["Quay House, 4 Lantern Row", "Port Ambrel"],
  contact: "plans@tallowmere.example",
};
/** What the demo office settles: its visits are planned as by the program's own choices, and two things of a plan are reviewed. */
const DEMO_POLICY = officePolicySchema.parse({ plan: { office: LETTERHEAD }, review: { deviations: true, consent: ["sensing"] } });
const SETTLED = "a choice against the order of preference is seen by two; so is a sensing element that stays unproven";

/** Makes the demo office: three people, every demo visit of the first. Prints how to sign in. */
const loadDemo = async (env: Environment, url: string): Promise<void> => {
  const opened = await openOffice(env);
  if (!opened.ok) throw new Error(opened.faults.join("; "));
  const { store, accounts, planner, world, clock, letters } = opened.value;
  const people = await makeDemoPeople({ accounts, clock });
  const owner = people.get("mara") ?? "";
  const files = (await readdir(VISITS)).filter((name) => name.endsWith(".json")).sort();
  for (const name of files) {
    const file = movedTo(await readFile(join(VISITS, name), "utf8"), world.now().slice(0, 10));
    if (!file.ok) throw new Error(`${name}: ${file.faults.join("; ")}`);
    const kept = await importVisit({ store, world, planner }, file.value, owner);
    if (!kept.ok) throw new Error(`${name}: ${kept.faults.map(({ at, wanted }) => `${at}: ${wanted}`).join("; ")}`);
  }
  const by = { who: people.get("odo") ?? "", when: world.now() };
  const adopted = { act: "adopted", takesEffect: by.when.slice(0, 10) } as const;
  await store.addPolicy(DEMO_POLICY, "", { versions: 0, acts: 0 }, by);
  await store.decidePolicy(1, adopted, SETTLED, { acts: 0 }, by);
  await letters.close();
  await store.close();
  process.stdout.write(
    `\n${files.length} demo visits are loaded. Open ${url} and sign in as one of\n\n${DEMO_PEOPLE.map(({ name, email, role }) => `  ${role.padEnd(11)}${email.padEnd(22)}${name}`).join("\n")}\n\nPassword of all three: ${DEMO_PASSWORD}\n\n`,
  );
};

await loadDemo(process.env, process.argv[2] ?? "");
