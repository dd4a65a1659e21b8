import { Fragment, type ReactElement } from "react";
import type { Block, FormField, FormRow } from "../blocks.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;

/** A place to write at by pen: the page holds no fields of its own, since the answer is given on the reply page or in the PDF. */
const BLANK = "………………";

const Blank = ({ field, title }: { readonly field: FormField; readonly title: string }): ReactElement => (
  <div>
    {`${title}: ${BLANK}`}
    {field.kind === "text" && field.unit !== undefined ? ` ${field.unit}` : ""}
  </div>
);

const Blanks = ({ heads, lines }: Pick<Of<"form">, "heads"> & Pick<FormRow, "lines">): ReactElement => (
  <>
    {lines.map((line, place) => (
      <Fragment key={line.find((field) => field !== null)?.name ?? place}>
        {line.map((field, column) =>
          field === null ? null : <Blank key={field.name} field={field} title={heads[place]?.[column]?.title ?? ""} />,
        )}
      </Fragment>
    ))}
  </>
);

/** What bears no reference stands under its heading and is asked by the titles of its places alone. */
export const Form = ({ title, heads, rows }: Of<"form">): ReactElement => {
  const [asked, own] = [rows.filter(({ ref }) => ref !== ""), rows.filter(({ ref }) => ref === "")];
  return (
    <>
      {title === "" ? null : <h3>{title}</h3>}
      {own.map(({ lines }) => (
        <Blanks key={JSON.stringify(lines)} heads={heads} lines={lines} />
      ))}
      {asked.length === 0 ? null : (
        <dl>
          {asked.map(({ ref, name, text, note, lines }) => (
            <div key={ref}>
              <dt>{[ref, name === undefined ? "" : `${name}.`, text].filter((part) => part !== "").join(" ")}</dt>
              <dd>
                {note === undefined ? null : <div className="quiet">{note}</div>}
                <Blanks heads={heads} lines={lines} />
              </dd>
            </div>
          ))}
        </dl>
      )}
    </>
  );
};
