import { redirect } from "next/navigation";
import { Page } from "../../../../../components/frame/Page.tsx";
import { StepForm } from "../../../../../components/live/StepForm.tsx";
import { stepView } from "../../../../../lib/usecases/visits/stepView.ts";
import { coreFiles } from "../../../../_server/core.ts";
import { admitToVisit, missing, said } from "../../../../_server/gate.ts";
import { barOf, instant, namesIn } from "../../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string; readonly path: readonly string[] }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const counted = (given: string | undefined): number => (given !== undefined && /^\d{1,4}$/.test(given) ? Number(given) : 0);

const Notes = ({ brought, aside }: { readonly brought: number; readonly aside: number }) => (
  <>
    {brought === 0 ? null : (
      <p className="note" role="status">
        {`Saved. Your answers brought ${brought} more ${brought === 1 ? "question" : "questions"} to this page.`}
      </p>
    )}
    {aside === 0 ? null : (
      <p className="note" role="status">
        {`${aside} earlier ${aside === 1 ? "answer does" : "answers do"} not apply any more and ${aside === 1 ? "is" : "are"} set aside. Nothing is lost: change the answer back and they count again.`}
      </p>
    )}
  </>
);

const Ask = async ({ params, searchParams }: Props) => {
  const { visit, path } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/ask/[...path]", visit);
  const found = await stepView(office, stored, path.join("/"), person.id);
  // The page of a set that was taken out leads to where it can be put back.
  if (found === null && path[0] === "sets")
    redirect(
      `/visits/${visit}/sets?${said(office, { problem: "There is no such set in this visit; one that was taken out can be put back here" })}`,
    );
  if (found === null) return missing();
  const nameOf = await namesIn(office);
  const view = {
    ...found,
    meanwhile: Object.fromEntries(Object.entries(found.meanwhile).map(([at, other]) => [at, { ...other, who: nameOf(other.who) }])),
  };
  const { new: brought, aside } = await searchParams;
  const { script, rulebook, wake } = await coreFiles();
  const here = `/visits/${visit}`;
  const set = path[0] === "sets" ? Number(path[1]) - 1 : null;
  return (
    <Page
      title={view.title}
      {...(view.setName === "" ? {} : { caption: view.setName })}
      person={person}
      token={token}
      visit={barOf(stored, "parts")}
      back={view.before === null ? { href: here, words: "Back to the parts" } : { href: `${here}/ask/${view.before}`, words: "Back" }}
      errors={Object.keys(view.problems).length > 0 || Object.keys(view.meanwhile).length > 0}
      wide
    >
      <Notes brought={counted(brought)} aside={counted(aside)} />
      {view.lastTime.map(({ label, text }) => (
        <p className="quiet" key={label}>{`${label}: ${text}`}</p>
      ))}
      <StepForm
        visit={visit}
        view={view}
        token={token}
        wake={`/core/${wake.name}`}
        core={{ script: `/core/${script.name}`, rulebook: `/core/${rulebook.name}`, file: `${here}/file`, path: view.path }}
        set={set}
        kind={path[2] ?? ""}
        savedWords={`Last saved ${instant(view.savedAt)}`}
      />
    </Page>
  );
};

export default Ask;
