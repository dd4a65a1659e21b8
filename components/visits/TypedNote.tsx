interface Props {
  readonly visit: string;
  /** Pages on which something stands typed that is no answer yet, with their titles and how many fields. */
  readonly pages: readonly { readonly path: string; readonly title: string; readonly count: number }[];
}

/** Tells, where answers are read or used, that something was typed which is not among them. */
export const TypedNote = ({ visit, pages }: Props) =>
  pages.length === 0 ? null : (
    <div className="note">
      <p>What you typed on these pages is kept, but was not taken as an answer; an older answer still counts in its place:</p>
      <ul>
        {pages.map(({ path, title, count }) => (
          <li key={path}>
            <a href={`/visits/${visit}/ask/${path}`}>{title}</a>
            {`: ${count} ${count === 1 ? "field" : "fields"}`}
          </li>
        ))}
      </ul>
    </div>
  );
