/** Something that was said, with who said it when in words. */
export interface Said {
  readonly id: string;
  readonly who: string;
  readonly when: string;
  readonly words: string;
}

/** What was said, the first first. */
export const Comments = ({ said }: { readonly said: readonly Said[] }) =>
  said.length === 0 ? null : (
    <ul className="said">
      {said.map(({ id, who, when, words }) => (
        <li key={id}>
          <p className="quiet">{`${who}, ${when}`}</p>
          <p className="as-written">{words}</p>
        </li>
      ))}
    </ul>
  );
