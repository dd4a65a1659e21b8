import type { FileBeside } from "../../lib/store/privacy/privacy.ts";
import type { PersonView, TextView } from "../../lib/usecases/privacy/personView.ts";
import { ChoiceField, Hidden, TextField } from "../form/Fields.tsx";

interface Props {
  readonly token: string;
  /** By what the person was found; typed once more it erases him. */
  readonly who: string;
  readonly view: PersonView;
  /** Who may take over open visits; null where the person has no account, or it has ended. */
  readonly heirs: readonly { readonly id: string; readonly name: string }[] | null;
  readonly vesselOf: (visit: string) => string;
  readonly ticked: ReadonlySet<string>;
  readonly typed: { readonly again: string; readonly takesOver: string };
  readonly faultAt: (id: string) => string | undefined;
}

const Tick = ({
  name,
  id,
  value,
  ticked,
  label,
  about,
}: Record<"name" | "id" | "value" | "label" | "about", string> & { readonly ticked: boolean }) => (
  <div className="option row">
    <input type="checkbox" id={id} name={name} value={value} defaultChecked={ticked} aria-describedby={`${id}-about`} />
    <div>
      <label htmlFor={id} className="as-written">
        {label}
      </label>
      <p className="about" id={`${id}-about`}>
        {about}
      </p>
    </div>
  </div>
);

const Texts = ({ texts, vesselOf, ticked }: Pick<Props, "vesselOf" | "ticked"> & { readonly texts: readonly TextView[] }) => (
  <fieldset className="group">
    <legend>Texts in which the name stands</legend>
    <p className="hint">Read them. From those that are ticked the name goes; the others stay as they are.</p>
    {texts.map(({ tick, text, places, visits, perhapsAnother }) => (
      <Tick
        key={tick}
        name="text"
        id={`t-${tick}`}
        value={tick}
        ticked={ticked.has(tick)}
        label={`“${text}”`}
        about={[[...places, ...visits.map(vesselOf)].join(", "), perhapsAnother ? "perhaps another of the same name" : ""]
          .filter((part) => part !== "")
          .join("; ")}
      />
    ))}
  </fieldset>
);

const Files = ({ files, vesselOf, ticked }: Pick<Props, "vesselOf" | "ticked"> & { readonly files: readonly FileBeside[] }) => (
  <fieldset className="group">
    <legend>Files that came with replies</legend>
    <p className="hint">They prove what was answered, so they stay, except those that are ticked.</p>
    {files.map(({ id, visit, what, name, who }) => (
      <Tick
        key={id}
        name="file"
        id={`f-${id}`}
        value={id}
        ticked={ticked.has(id)}
        label={what === "" ? name : `${what} (${name})`}
        about={`${vesselOf(visit)}, from ${who}`}
      />
    ))}
  </fieldset>
);

/** The form that erases a person, with what goes only where it is ticked. */
export const Erase = ({ token, who, view, heirs, vesselOf, ticked, typed, faultAt }: Props) => (
  <form method="post" action="/privacy/erase" noValidate>
    <Hidden values={{ token, who }} />
    <p>
      Name and address are replaced wherever they stand, in one step, and cannot be brought back. What was done, answered and agreed stays,
      as of “Erased person” with a mark. An account ends. Mails to the address that lie in the outbox are deleted; those that went out are
      with their readers.
    </p>
    {view.letters === 0 ? null : (
      <p>
        {view.letters === 1
          ? "One letter may name the person: its PDF gives"
          : `${view.letters} letters may name the person: their PDFs give`}{" "}
        way to a page that says so.
      </p>
    )}
    {view.texts.length === 0 ? null : <Texts texts={view.texts} vesselOf={vesselOf} ticked={ticked} />}
    {view.files.length === 0 ? null : <Files files={view.files} vesselOf={vesselOf} ticked={ticked} />}
    {heirs === null ? null : (
      <ChoiceField
        id="takes-over"
        label="Who takes over the open visits"
        hint="The account ends with this"
        value={typed.takesOver}
        choices={[{ value: "", label: "Nobody: there are none" }, ...heirs.map(({ id, name }) => ({ value: id, label: name }))]}
        fault={faultAt("takes-over")}
      />
    )}
    <TextField id="again" label={`Type ${who} once more`} value={typed.again} fault={faultAt("again")} />
    <p className="quiet">A backup that was made before still holds the person.</p>
    <button type="submit" className="danger">
      Erase the person
    </button>
  </form>
);
