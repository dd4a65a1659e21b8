import { Select, Text, TextInput, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import type { Block, FormField, FormRow } from "../blocks.ts";
import { glued, styles } from "./style.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;
type Heads = Of<"form">["heads"];

/** What is filled in lies in a drawn box, so that a printed form has its place too. What the field says and looks like is set in `fields.ts`. */
const Field = ({ field }: { readonly field: FormField }): ReactElement => (
  <>
    <View style={field.kind === "text" && field.tall === true ? styles.tallBox : styles.fieldBox}>
      {field.kind === "choice" ? (
        <Select name={field.name} style={styles.field} select={[" ", ...field.choices]} edit={false} noSpell />
      ) : (
        <TextInput
          name={field.name}
          style={styles.field}
          maxLength={field.longest}
          noSpell
          {...(field.tall === true ? { multiline: true } : {})}
        />
      )}
    </View>
    {field.kind === "text" && field.unit !== undefined ? <Text style={styles.fieldUnit}>{field.unit}</Text> : null}
  </>
);

const totalOf = (heads: Heads): number => (heads[0] ?? []).reduce((sum, { share }) => sum + share, 0);

/** Shares are of the page; within the columns of fields they are of these. */
const within = (share: number, heads: Heads): string => `${(share / totalOf(heads)) * 100}%`;

interface RowProps extends Pick<Of<"form">, "heads" | "compact"> {
  readonly row: FormRow;
}

const Row = ({ row, heads, compact }: RowProps): ReactElement => (
  <View style={compact === true ? styles.compactFormRow : styles.formRow} wrap={false}>
    {totalOf(heads) === 100 ? null : (
      <>
        <Text style={compact === true ? styles.compactFormRef : styles.formRef}>{row.ref}</Text>
        <View style={styles.formText}>
          <Text>
            {row.name === undefined ? "" : <Text style={styles.strong}>{`${row.name}. `}</Text>}
            {glued(row.text)}
          </Text>
          {row.note === undefined ? null : <Text style={styles.formNote}>{glued(row.note)}</Text>}
        </View>
      </>
    )}
    <View style={{ width: `${totalOf(heads)}%` }}>
      {row.lines.map((line, place) => (
        <View
          key={line.find((field) => field !== null)?.name ?? place}
          style={compact === true ? styles.compactFieldLine : styles.fieldLine}
        >
          {(heads[place] ?? []).map(({ title, share }, column) => {
            const field = line[column];
            return (
              <View key={title} style={[styles.fieldPlace, { width: within(share, heads) }]}>
                {field === null || field === undefined ? null : <Field field={field} />}
              </View>
            );
          })}
        </View>
      ))}
    </View>
  </View>
);

/** Room for the head and the first row of a table of fields. */
const FIRST_ROW = 70;

export const Form = ({ title, heads, rows, compact }: Of<"form">): ReactElement => (
  <>
    <View minPresenceAhead={FIRST_ROW} />
    <View>
      <View style={styles.formHead} fixed>
        {totalOf(heads) === 100 ? null : (
          <View style={{ flex: 1 }}>
            <Text style={styles.subheading}>{title}</Text>
          </View>
        )}
        <View style={{ width: `${totalOf(heads)}%` }}>
          {heads.map((line) => (
            <View key={line.map(({ title: head }) => head).join("|")} style={{ flexDirection: "row" }}>
              {line.map(({ title: head, share }) => (
                <Text key={head} style={{ width: within(share, heads), paddingRight: 4, fontWeight: 600 }}>
                  {head}
                </Text>
              ))}
            </View>
          ))}
        </View>
      </View>
      {rows.map((row) => (
        <Row key={`${row.ref}${row.lines[0]?.[0]?.name}`} row={row} heads={heads} {...(compact === true ? { compact } : {})} />
      ))}
    </View>
  </>
);

/** The fields that are kept lie on the line that tells of them and are not shown. */
export const FormMark = ({ text, kept }: Of<"formMark">): ReactElement => (
  <View wrap={false}>
    <Text style={[styles.paragraph, styles.fine]}>{text}</Text>
    {kept.map(({ name }) => (
      <TextInput key={name} name={name} style={styles.kept} readOnly />
    ))}
  </View>
);
