import { ChoiceField } from "../../components/form/Fields.tsx";
import { Page } from "../../components/frame/Page.tsx";
import { LogTable } from "../../components/people/LogTable.tsx";
import { admitPerson } from "../_server/gate.ts";
import { actWords, logLines } from "../_server/logWords.ts";

type Props = { readonly searchParams: Promise<Readonly<Record<string, string | undefined>>> };

const A_PAGE = 100;

const Log = async ({ searchParams }: Props) => {
  const { office, person, token } = await admitPerson("GET /log");
  const { who = "", act = "", before = "" } = await searchParams;
  const older = /^\d{1,9}$/.test(before) ? Number(before) : null;
  const [people, acts, entries] = await Promise.all([
    office.accounts.people(),
    office.store.auditedActs(),
    office.store.auditedWhere({
      ...(who === "" ? {} : { person: who }),
      ...(act === "" ? {} : { act }),
      ...(older === null ? {} : { before: older }),
      limit: A_PAGE + 1,
    }),
  ]);
  const shown = entries.slice(0, A_PAGE);
  const at = (more: Readonly<Record<string, string>>): string =>
    `/log?${new URLSearchParams({ ...(who === "" ? {} : { who }), ...(act === "" ? {} : { act }), ...more })}`;
  return (
    <Page title="Log" person={person} token={token} back={{ href: "/visits", words: "All visits" }} wide>
      <p>
        What was done and what was refused, the latest first. The program adds to it; nothing of it goes unless a visit is removed or a
        person erased, which it then tells.
      </p>
      <search>
        <form method="get" action="/log" className="filter">
          <ChoiceField
            id="who"
            label="By or about"
            value={who}
            choices={[
              { value: "", label: "Everybody" },
              ...people.map(({ id, name, ended }) => ({ value: id, label: ended === undefined ? name : `${name}, account ended` })),
              { value: "nobody", label: "Nobody signed in" },
            ]}
          />
          <ChoiceField
            id="act"
            label="What was done"
            value={act}
            choices={[{ value: "", label: "Everything" }, ...acts.map((one) => ({ value: one, label: actWords(one) }))]}
          />
          <button type="submit" className="second">
            Show these
          </button>
        </form>
      </search>
      {shown.length === 0 ? (
        <p>
          No entry of this kind. <a href="/log">Show all</a>
        </p>
      ) : (
        <LogTable lines={await logLines(office, shown)} />
      )}
      {older !== null || entries.length > A_PAGE ? (
        <nav aria-label="More of the log">
          <ul className="pages">
            {older === null ? null : (
              <li>
                <a href={at({})}>The latest</a>
              </li>
            )}
            {entries.length > A_PAGE ? (
              <li>
                <a href={at({ before: String(shown.at(-1)?.id ?? 0) })}>Older</a>
              </li>
            ) : null}
          </ul>
        </nav>
      ) : null}
    </Page>
  );
};

export default Log;
