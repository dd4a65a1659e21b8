import { Figure } from "../../../../components/drawing/Figure.tsx";
import { Page } from "../../../../components/frame/Page.tsx";
import { Board, Legend } from "../../../../components/plan/Board.tsx";
import { PlanPanel } from "../../../../components/plan/PlanPanel.tsx";
import { sumOf } from "../../../../lib/flow/glance.ts";
import { loadDrawn, startsDrawn } from "../../../../lib/usecases/visits/drawn.ts";
import { admitToVisit } from "../../../_server/gate.ts";
import { barOf } from "../../../_server/words.ts";

type Props = { readonly params: Promise<{ readonly visit: string }> };

const BoardPage = async ({ params }: Props) => {
  const { visit } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/board", visit);
  const preview = office.preview(stored);
  const frame = {
    title: "Board",
    person,
    token,
    visit: barOf(stored, "board"),
    back: { href: `/visits/${visit}`, words: "Back to the parts" },
    wide: true,
  };
  if (!("glance" in preview))
    return (
      <Page {...frame}>
        <PlanPanel preview={preview} visit={visit} set={null} kind="" />
      </Page>
    );
  const { glance, plan, read } = preview;
  const drawn = [...plan.sets.flatMap((_, set) => loadDrawn(read, set) ?? []), ...startsDrawn(plan, read)];
  return (
    <Page {...frame}>
      <p>{sumOf(glance)}</p>
      <Board glance={glance} visit={visit} rulebook={office.planner.rulebook} />
      <Legend />
      {plan.warnings.length + plan.findings.length === 0 ? null : (
        <>
          <h2>What to look at</h2>
          <ul>
            {[...plan.warnings, ...plan.findings].map(({ text }) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      {drawn.length === 0 ? null : (
        <>
          <h2>Load and starts</h2>
          <div className="drawings">
            {drawn.map(({ title, drawing, rows }) => (
              <Figure key={title} title={title} drawing={drawing} rows={rows} />
            ))}
          </div>
        </>
      )}
    </Page>
  );
};

export default BoardPage;
