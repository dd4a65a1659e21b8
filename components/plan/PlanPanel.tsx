import { type Glance, type GlanceProtection, type Standing, sumOf } from "../../lib/flow/glance.ts";
import type { Waiting } from "../../lib/flow/live.ts";
import { testAt } from "./address.ts";
import { LoopStrip, StripKey } from "./LoopStrip.tsx";

export type PanelPreview = { readonly glance: Glance } | { readonly waits: readonly Waiting[] };

const SIGNS: Readonly<Record<Standing, string>> = {
  settled: "■",
  proposed: "▲",
  "may apply": "△",
  "nothing acceptable": "✕",
  "does not apply": "–",
};

/** Whether what is shown of a loop is only what the best way that is left would prove. */
export const isOpen = ({ standing }: Pick<GlanceProtection, "standing">): boolean => standing === "proposed" || standing === "may apply";

/** Where a protection stands: a shape and its word. */
export const StandingMark = ({ standing }: { readonly standing: Standing }) => (
  <span className={`standing ${standing.replaceAll(" ", "-")}`}>
    <span aria-hidden="true">{SIGNS[standing]} </span>
    {standing}
  </span>
);

/** What can be said of a protection in one line under its strip. */
const wayOf = ({ ways, standing, open }: GlanceProtection): string => {
  const asked = open === 0 ? "" : ` (${open} ${open === 1 ? "question" : "questions"} open)`;
  return standing === "nothing acceptable" ? `no way is left as things stand${asked}` : `${ways.join(" and ")}${asked}`;
};

const Line = ({ protection, visit, here }: { readonly protection: GlanceProtection; readonly visit: string; readonly here: boolean }) => (
  <li className={here ? "here" : undefined}>
    <p className="line">
      <a href={testAt(visit, protection)}>{`${protection.ref} ${protection.name}`}</a> <StandingMark standing={protection.standing} />
      {protection.deviation ? <span className="deviates">deviation</span> : null}
    </p>
    <LoopStrip proves={protection.proves} would={isOpen(protection)} />
    <p className="way">{wayOf(protection)}</p>
  </li>
);

interface Props {
  readonly preview: PanelPreview;
  readonly visit: string;
  /** The set whose tests are listed; all sets in short where it is null. */
  readonly set: number | null;
  /** The kind of protection whose page this is. */
  readonly kind: string;
}

const SetLines = ({ glance, visit, set, kind }: Omit<Props, "preview"> & { readonly glance: Glance; readonly set: number }) => {
  const protections = (glance.sets[set]?.protections ?? []).filter(({ standing }) => standing !== "does not apply");
  const first = protections.filter((protection) => protection.kind === kind);
  const rest = protections.filter((protection) => protection.kind !== kind);
  return (
    <ol className="lines">
      {[...first, ...rest].map((protection) => (
        <Line key={protection.ref} protection={protection} visit={visit} here={protection.kind === kind} />
      ))}
    </ol>
  );
};

const Sets = ({ glance, visit }: { readonly glance: Glance; readonly visit: string }) => (
  <ul className="lines">
    {glance.sets.map(({ at, name, protections }) => {
      const counted = protections.filter(({ standing }) => standing !== "does not apply");
      const settled = counted.filter(({ standing }) => standing === "settled").length;
      return (
        <li key={at}>
          <p className="line">
            <a href={`/visits/${visit}/board`}>{name}</a> <span className="quiet">{`${settled} of ${counted.length} tests settled`}</span>
          </p>
        </li>
      );
    })}
  </ul>
);

const SUPPORT = [
  ["technician", "Technicians"],
  ["spare", "Spares"],
  ["equipment", "Equipment"],
] as const;

/** What it will take, technicians first; each kind folds. */
const Support = ({ glance }: { readonly glance: Glance }) => (
  <>
    <h3>{glance.deciding === 0 ? "Support it will take" : "Support it may take, as things stand"}</h3>
    {glance.support.length === 0 ? <p className="quiet">None beyond the ship’s own people, as things stand.</p> : null}
    {SUPPORT.map(([kind, title]) => {
      const wanted = glance.support.filter((one) => one.kind === kind);
      return wanted.length === 0 ? null : (
        <details key={kind} open={kind === "technician"}>
          <summary>{`${title}: ${wanted.length}`}</summary>
          <ul className="support">
            {wanted.map(({ ref, text, late }) => (
              <li key={ref}>
                <strong>{ref}</strong> {text}
                {late ? <span className="quiet"> (can no longer come in time)</span> : null}
              </li>
            ))}
          </ul>
        </details>
      );
    })}
  </>
);

/** The plan as today's answers make it, beside the questions. */
export const PlanPanel = ({ preview, visit, set, kind }: Props) => {
  if ("waits" in preview)
    return (
      <div className="panel">
        <h2>The plan waits</h2>
        <p>Some answers contradict each other. Once they are put right, the plan is here again.</p>
        <ul>
          {preview.waits.map(({ says, page }) => (
            <li key={says}>
              <a href={page === null ? `/visits/${visit}/particulars` : `/visits/${visit}/ask/${page}`}>{says}</a>
            </li>
          ))}
        </ul>
      </div>
    );
  const { glance } = preview;
  return (
    <div className="panel">
      <h2>The plan so far</h2>
      <p>{sumOf(glance)}</p>
      {set === null ? null : <StripKey />}
      {set === null ? <Sets glance={glance} visit={visit} /> : <SetLines glance={glance} visit={visit} set={set} kind={kind} />}
      <Support glance={glance} />
    </div>
  );
};
