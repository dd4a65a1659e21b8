import * as z from "zod";
import { ChoiceField, ErrorSummary, TextField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { FactList } from "../../components/review/FactList.tsx";
import { Finding, Lines } from "../../components/review/Finding.tsx";
import { findingsBy, findingViews } from "../../lib/usecases/review/findings.ts";
import type { FindingView } from "../../lib/usecases/review/findingView.ts";
import { keepFormerPlans } from "../../lib/usecases/review/keepPlan.ts";
import { sideBySide } from "../../lib/usecases/review/sideBySide.ts";
import { type FindingQuery, findingQuery } from "../_server/findingQuery.ts";
import { admitPerson, type SignedInTo, saidIn } from "../_server/gate.ts";
import { namesIn } from "../_server/words.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const A_PAGE = 20;
/** So many decisions of one finding are shown, for and against the engine each. */
const MOST_LINES = 60;

const keptSchema = z.object({
  finding: z.string(),
  how: z.string(),
  words: z.string(),
  faults: z.array(z.object({ id: z.string(), says: z.string() })),
});

/** What could not be settled, to be shown again as it was typed. */
const keptIn = (text: string | undefined): z.infer<typeof keptSchema> | null => {
  const read = keptSchema.safeParse(JSON.parse(text ?? "null"));
  return read.success ? read.data : null;
};

const HEADS: Readonly<Record<FindingView["sort"], { readonly title: string; readonly says: string }>> = {
  alike: {
    title: "The same facts, different ways",
    says: "Every fact that decides is equal, and yet not the same way is planned.",
  },
  twins: {
    title: "Near twins",
    says: "They differ in one deciding fact, which changes nothing for the engine, and not the same way is planned.",
  },
  usual: {
    title: "What this office usually does against the engine",
    says: "Chosen against the engine in at least three visits and half of those in which it decides so: perhaps the policy or the rulebook should say it.",
  },
};

const any = (label: string) => ({ value: "", label });

const Filter = async ({ query, office }: { readonly query: FindingQuery; readonly office: SignedInTo["office"] }) => {
  const { rulebook } = office.planner;
  const people = await office.accounts.people();
  const { typed } = query;
  const faultAt = (id: string): string | undefined => query.faults.find((one) => one.id === id)?.says;
  return (
    <details className="filter no-print" open={Object.values(typed).some((value) => value !== "")}>
      <summary>Choose among them</summary>
      <form method="get" action="/consistency">
        <div className="day-fields">
          <TextField id="vessel" label="Vessel" value={typed["vessel"] ?? ""} />
          <TextField id="maker" label="Maker" value={typed["maker"] ?? ""} />
          <ChoiceField
            id="method"
            label="Method"
            value={typed["method"] ?? ""}
            choices={[
              any("Any"),
              ...rulebook.protections.flatMap(({ short, methods }) =>
                methods.map(({ id, name }) => ({ value: id, label: `${short}: ${name}` })),
              ),
            ]}
          />
          <ChoiceField
            id="inspector"
            label="Inspector"
            value={typed["inspector"] ?? ""}
            choices={[any("Anybody"), ...people.map(({ id, name }) => ({ value: id, label: name }))]}
          />
          <ChoiceField
            id="ruleBasis"
            label="Rules that bind"
            value={typed["ruleBasis"] ?? ""}
            choices={[any("Any"), ...rulebook.ruleBases.map(({ id, name }) => ({ value: id, label: name }))]}
          />
          <TextField
            id="from"
            label="Plans from"
            hint="For example 2026-03-24"
            value={typed["from"] ?? ""}
            fault={faultAt("from")}
            width="short"
          />
          <TextField id="to" label="Plans to" hint="The last day" value={typed["to"] ?? ""} fault={faultAt("to")} width="short" />
        </div>
        <div className="option">
          <input type="checkbox" id="settled" name="settled" value="yes" defaultChecked={typed["settled"] === "yes"} />
          <label htmlFor="settled">Also those that are settled</label>
        </div>
        <div className="acts">
          <button type="submit" className="second">
            Show
          </button>
          <a href="/consistency">Show all</a>
        </div>
      </form>
    </details>
  );
};

const Consistency = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /consistency");
  const given = await searchParams;
  const query = findingQuery(given);
  const { done } = saidIn(office, given);
  await keepFormerPlans(office);
  const compare = await office.compare();
  const settled = await office.store.settledFindings();
  const nameOf = await namesIn(office);
  const found = findingsBy(compare, query.filter, settled);
  const from = Math.max(0, Math.trunc(Number(given["at"] ?? "0")) || 0);
  const views = findingViews(compare, found.slice(from, from + A_PAGE), settled, office.planner, MOST_LINES);
  const kept = given["again"] === undefined ? null : keptIn((await office.store.typed("settling", person.id))?.text);
  const faults = [...query.faults, ...(kept?.faults ?? [])];
  const params = new URLSearchParams(Object.entries(query.typed).filter(([, value]) => value !== ""));
  const at = (start: number): string => `/consistency?${new URLSearchParams([...params, ["at", String(start)]])}`;
  const same = given["signature"] === undefined ? null : sideBySide(compare, given["signature"], office.planner.rulebook);
  const counts = (["alike", "twins", "usual"] as const).map((sort) => found.filter((one) => one.sort === sort).length);
  const filtered = params.size > 0;
  return (
    <Page title="Consistency" person={person} token={token} back={{ href: "/visits", words: "All visits" }} errors={faults.length > 0} wide>
      <ErrorSummary faults={faults} />
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      {same === null ? null : (
        <section>
          <h2>{`${same.protection}: every plan on the same facts`}</h2>
          <Lines lines={same.lines} label="Every plan on the same facts" nameOf={nameOf} />
          <details>
            <summary>{`These facts (${same.facts.length})`}</summary>
            <FactList facts={same.facts} />
          </details>
        </section>
      )}
      <p>
        {compare.plans.length === 0
          ? "No plan is here to be compared yet. A plan counts from when its review is asked for or a letter is made of it."
          : `${compare.plans.length} ${compare.plans.length === 1 ? "plan" : "plans"} with ${compare.decisions.length} decisions compared: ${counts[0]} on the same facts decided differently, ${counts[1]} near ${counts[1] === 1 ? "twin" : "twins"}, ${counts[2]} usual ${counts[2] === 1 ? "choice" : "choices"} against the engine${query.filter.settled ? "" : ", those that are settled left out"}. A plan counts as it stood when its review was last asked for or its letter made.`}
      </p>
      <Filter query={query} office={office} />
      {compare.plans.length > 0 && found.length === 0 ? (
        <p>{filtered ? "Nothing of what you chose is treated unlike." : "Nothing is treated unlike that is not settled."}</p>
      ) : null}
      {found.length === 0 ? null : (
        <p className="no-print">
          {"These findings as "}
          <a href={`/consistency/export/findings.xlsx?${params}`}>workbook (XLSX)</a>
          {", "}
          <a href={`/consistency/export/findings.csv?${params}`}>plain list (CSV)</a>
        </p>
      )}
      {(["alike", "twins", "usual"] as const).map((sort) => {
        const own = views.filter((view) => view.sort === sort);
        return own.length === 0 ? null : (
          <section key={sort}>
            <h2>{HEADS[sort].title}</h2>
            <p>{HEADS[sort].says}</p>
            {own.map((view) => (
              <Finding
                key={view.id}
                view={view}
                place={from + views.indexOf(view) + 1}
                nameOf={nameOf}
                token={token}
                query={params.toString()}
                typed={kept?.finding === view.id ? kept : null}
                faults={kept?.faults ?? []}
              />
            ))}
          </section>
        );
      })}
      {from > 0 || found.length > from + A_PAGE ? (
        <nav aria-label="More findings">
          <ul className="pages">
            {from > 0 ? (
              <li>
                <a href={at(Math.max(0, from - A_PAGE))}>Back in the list</a>
              </li>
            ) : null}
            {found.length > from + A_PAGE ? (
              <li>
                <a href={at(from + A_PAGE)}>{`Further in the list (${found.length - from - A_PAGE} more)`}</a>
              </li>
            ) : null}
          </ul>
        </nav>
      ) : null}
    </Page>
  );
};

export default Consistency;
