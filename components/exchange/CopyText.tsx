interface Props {
  readonly id: string;
  readonly label: string;
  readonly text: string;
  readonly lines?: number;
}

/** A text to be taken over into another program as it stands. */
export const CopyText = ({ id, label, text, lines = 14 }: Props) => (
  <div className="field">
    <label htmlFor={id}>{label}</label>
    <textarea id={id} className="copy" readOnly rows={lines} defaultValue={text} />
  </div>
);
