import * as z from "zod";
import { Figure } from "../../../../../../components/drawing/Figure.tsx";
import { ErrorSummary, Hidden, TextField } from "../../../../../../components/form/Fields.tsx";
import { fieldId } from "../../../../../../components/form/QuestionField.tsx";
import { Page } from "../../../../../../components/frame/Page.tsx";
import { Compare } from "../../../../../../components/plan/Compare.tsx";
import { LoopStrip } from "../../../../../../components/plan/LoopStrip.tsx";
import { isOpen, PlanPanel, StandingMark } from "../../../../../../components/plan/PlanPanel.tsx";
import { Verdicts, Ways } from "../../../../../../components/plan/Verdicts.tsx";
import { Comments } from "../../../../../../components/review/Comments.tsx";
import { pageOf } from "../../../../../../lib/flow/live.ts";
import { namesIn, sayFigure } from "../../../../../../lib/plan/readable.ts";
import { capital, type Names, sayBasis } from "../../../../../../lib/plan/say.ts";
import { bookAt } from "../../../../../../lib/rulebook/places.ts";
import { loadDrawn } from "../../../../../../lib/usecases/visits/drawn.ts";
import { storedPointer } from "../../../../../../lib/usecases/visits/places.ts";
import { openVisit } from "../../../../../../lib/usecases/visits/visitDraft.ts";
import { admitToVisit, missing, saidIn } from "../../../../../_server/gate.ts";
import { barOf, instant, namesIn as namesOf } from "../../../../../_server/words.ts";

type Props = {
  readonly params: Promise<{ readonly visit: string; readonly set: string; readonly kind: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | undefined>>>;
};

const choiceSchema = z.object({ page: z.string(), method: z.string(), reason: z.string() });

/** A choice that could not be kept, to be shown again as it was typed. */
const choiceIn = (text: string | undefined, page: string): { readonly method: string; readonly reason: string } => {
  const read = choiceSchema.safeParse(JSON.parse(text ?? "null"));
  return read.success && read.data.page === page ? read.data : { method: "", reason: "" };
};

const Test = async ({ params, searchParams }: Props) => {
  const { visit, set: number, kind } = await params;
  const { office, person, token, stored } = await admitToVisit("GET /visits/[visit]/tests/[set]/[kind]", visit);
  const query = await searchParams;
  const { draft } = openVisit(stored);
  const preview = office.preview(stored);
  const { rulebook } = office.planner;
  const entry = rulebook.protections.find((one) => one.kind === kind);
  const frame = {
    title: entry === undefined ? "" : capital(entry.name),
    person,
    token,
    visit: barOf(stored, "board"),
    back: { href: `/visits/${visit}/board`, words: "Back to the board" },
    wide: true,
  };
  if (entry === undefined) return missing();
  if (!("plan" in preview))
    return (
      <Page {...frame}>
        <PlanPanel preview={preview} visit={visit} set={null} kind="" />
      </Page>
    );
  const { plan, glance, read } = preview;
  const place = Number(number) - 1;
  const protection = plan.sets[place]?.protections.find((one) => one.kind === kind);
  const short = glance.sets[place]?.protections.find((one) => one.kind === kind);
  if (protection === undefined || short === undefined) return missing();
  const methods = new Map(entry.methods.map((method) => [method.id, method] as const));
  const chosen = protection.decision.methods.flatMap((id) => methods.get(id) ?? []);
  // On a page facts are called by their names; references are for letters.
  const names: Names = { ...namesIn(plan, rulebook), refAt: () => undefined };
  const page = `/visits/${visit}/tests/${number}/${kind}`;
  const pageAt = (at: string): string => `/visits/${visit}/ask/${pageOf(at, draft, office.planner) ?? "support"}#${fieldId(at)}`;
  const fit = protection.verdicts.filter(({ verdict, method }) => verdict === "fit" && !protection.decision.methods.includes(method));
  const drawn = kind === "reversePower" ? loadDrawn(read, place) : null;
  const cautions = rulebook.cautions.filter(({ id }) => protection.cautions.includes(id));
  const { problem, field, done } = saidIn(office, query);
  const faults = problem === undefined ? [] : [{ id: field === "reason" ? "reason" : "choose", says: problem }];
  const kept = choiceIn((await office.store.typed(`${visit} choice`, person.id))?.text, page);
  const binding = rulebook.ruleBases.find(({ id }) => id === plan.visit.ruleBasis);
  const alike = entry.methods.map(({ id }) => id);
  const nameOf = await namesOf(office);
  const last = (await office.store.reviewOf(visit)).at(-1);
  const here = storedPointer(protection.at, stored.sets);
  const said = (await office.store.commentsOf(visit))
    .filter(({ at }) => at === here)
    .map(({ id, who, when, words }) => ({ id, who: nameOf(who), when: instant(when), words }));
  return (
    <Page {...frame} caption={`${protection.ref}, ${plan.sets[place]?.name ?? ""}`} errors={faults.length > 0}>
      {done === undefined ? null : (
        <p className="note" role="status">
          {done}
        </p>
      )}
      <ErrorSummary faults={faults} />
      <p>
        <StandingMark standing={short.standing} /> {short.deviation ? <span className="deviates">deviation</span> : null}
      </p>
      {isOpen(short) ? <p className="quiet">As proposed, this would be proven:</p> : null}
      <LoopStrip proves={short.proves} full would={isOpen(short)} />
      <h2>How it will be proven</h2>
      {chosen.length === 0 ? (
        <p>
          {protection.decision.outcome === "does not apply"
            ? `It does not apply: ${entry.appliesNot}`
            : "Nothing acceptable is left as things stand."}
        </p>
      ) : null}
      {chosen.map(({ id, name, does, expected, restore }) => (
        <div key={id}>
          <p>
            <strong>
              <a href={bookAt("methods", id)}>{capital(name)}</a>.
            </strong>{" "}
            {does}
          </p>
          <p>{`To be seen: ${expected}.`}</p>
          {restore === undefined ? null : <p>{`To be put back: ${restore}.`}</p>}
        </div>
      ))}
      {cautions.map(({ id, text }) => (
        <p className="caution" key={id}>
          <strong>
            <a href={bookAt("cautions", id)}>Caution</a>.{" "}
          </strong>
          {text}
        </p>
      ))}
      {protection.decision.wouldOpen === undefined || protection.decision.wouldOpen.length === 0 ? null : (
        <>
          <h3>What would open a way</h3>
          <ul>
            {protection.decision.wouldOpen.map(({ at, is, methods: then }) => (
              <li
                key={at}
              >{`${names.specAt(at)?.name ?? at}: ${is.join(" or ")}; then ${then.map((id) => methods.get(id)?.name ?? id).join(" and ")}`}</li>
            ))}
          </ul>
        </>
      )}
      {said.length === 0 && last?.act !== "sent back" ? null : (
        <section>
          <h2>Said in review</h2>
          {last?.act === "sent back" ? (
            <p>
              {`The plan was sent back by ${nameOf(last.who)}, ${instant(last.when)}${last.words === "" ? "" : `: ${last.words}`}. `}
              <a href={`/visits/${visit}/review`}>To the review</a>
            </p>
          ) : null}
          <Comments said={said} />
        </section>
      )}
      {protection.deviation === undefined ? null : (
        <p className="note">
          {`${protection.deviation.refused ? "The inspector’s choice was refused" : "The inspector’s choice against the order of preference"}: ${methods.get(protection.deviation.method)?.name ?? protection.deviation.method}. ${protection.deviation.reason}`}
        </p>
      )}
      {protection.figures.length === 0 ? null : (
        <>
          <h3>Figures</h3>
          <ul>
            {protection.figures.map((figure) => (
              <li key={`${figure.name}${figure.value}`}>
                {capital(sayFigure(figure, "metric"))}
                <span className="basis">{figure.basis.length === 0 ? "" : ` – ${figure.basis.map(sayBasis).join("; ")}`}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      {drawn === null ? null : <Figure title={drawn.title} drawing={drawn.drawing} rows={drawn.rows} />}
      <p>
        <a href={`/visits/${visit}/ask/sets/${number}/${kind}`}>Answer or change the questions of this test</a>
      </p>
      <p>
        <a href={bookAt("protections", kind)}>This protection in the rulebook</a>
        {binding === undefined ? null : (
          <>
            {"; rules that bind: "}
            <a href={bookAt("bases", binding.id)}>{binding.name}</a>
          </>
        )}
      </p>
      <h2>Ways that are left, best first</h2>
      <Ways protection={protection} methods={methods} names={names} />
      <h2>Why? Every method with its verdict</h2>
      <Verdicts protection={protection} methods={methods} open={(at) => ({ name: names.specAt(at)?.name ?? at, href: pageAt(at) })} />
      <h2>Compare two methods</h2>
      <Compare
        protection={protection}
        methods={entry.methods}
        one={query["one"] ?? protection.decision.methods[0] ?? alike[0] ?? ""}
        other={query["other"] ?? alike.find((id) => id !== (protection.decision.methods[0] ?? alike[0])) ?? ""}
        needs={rulebook.needs}
        cautions={rulebook.cautions}
        action={page}
      />
      <h2 className="no-print">Choose another way</h2>
      <form method="post" action={`${page}/choose`} className="no-print" noValidate>
        <Hidden values={{ token, seen: String(stored.frameVersion) }} />
        {fit.length === 0 && protection.deviation === undefined ? (
          <p id="choose">No other method is fit as things stand. What is vetoed, barred or still depends cannot be chosen.</p>
        ) : (
          <>
            <p>
              Only what is fit today can be chosen. The plan then holds the method you choose and beside it whatever else the loop still
              needs. The supervisor sees every choice against the order of preference with its reason.
            </p>
            <fieldset className="field stack">
              <legend>Method</legend>
              {fit.map(({ method }, index) => (
                <div className="option" key={method}>
                  <input
                    type="radio"
                    id={index === 0 ? "choose" : `choose-${index}`}
                    name="method"
                    value={method}
                    defaultChecked={kept.method === method}
                  />
                  <label htmlFor={index === 0 ? "choose" : `choose-${index}`}>{methods.get(method)?.name ?? method}</label>
                </div>
              ))}
              {protection.deviation === undefined ? null : (
                <div className="option">
                  <input
                    type="radio"
                    id={fit.length === 0 ? "choose" : "choose-back"}
                    name="method"
                    value="back to the order of preference"
                  />
                  <label htmlFor={fit.length === 0 ? "choose" : "choose-back"}>Back to the order of preference</label>
                </div>
              )}
            </fieldset>
            <TextField
              id="reason"
              label="Reason"
              hint="Why this way is taken; it stands in the plan"
              value={kept.reason}
              lines={3}
              fault={field === "reason" ? problem : undefined}
            />
            <button type="submit" className="second">
              Keep this choice
            </button>
          </>
        )}
      </form>
    </Page>
  );
};

export default Test;
