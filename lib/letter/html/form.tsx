import { Fragment, type ReactElement } from "react";
import type { Block, FormField } from "../blocks.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;

/** A place to write at by pen: the page holds no fields of its own, since the answer is given on the reply page or in the PDF. */
const BLANK = "………………";

const Blank = ({ field, title }: { readonly field: FormField; readonly title: string }): ReactElement => (
  <div>
    {`${title}: ${BLANK}`}
    {field.kind === "text" && field.unit !== undefined ? ` ${field.unit}` : ""}
  </div>
);

export const Form = ({ title, heads, rows }: Of<"form">): ReactElement => (
  <>
    {title === "" ? null : <h3>{title}</h3>}
    <dl>
      {rows.map(({ ref, name, text, note, lines }) => (
        <div key={`${ref}${text}`}>
          <dt>{[ref, name === undefined ? "" : `${name}.`, text].filter((part) => part !== "").join(" ")}</dt>
          <dd>
            {note === undefined ? null : <div className="quiet">{note}</div>}
            {lines.map((line, place) => (
              <Fragment key={line.find((field) => field !== null)?.name ?? place}>
                {line.map((field, column) =>
                  field === null ? null : <Blank key={field.name} field={field} title={heads[place]?.[column]?.title ?? ""} />,
                )}
              </Fragment>
            ))}
          </dd>
        </div>
      ))}
    </dl>
  </>
);
