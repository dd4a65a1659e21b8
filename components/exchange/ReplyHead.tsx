import { sizeWords } from "../../lib/letter/sizes.ts";
import type { Reply } from "../../lib/model/reply.ts";

/** A file that came with a reply, as a page names it. */
export interface FileLine {
  readonly href: string;
  readonly what: string;
  readonly name: string;
  readonly size: number;
}

interface Props {
  readonly by: Reply["by"];
  readonly remarks: string | undefined;
  readonly files: readonly FileLine[];
  /** When and how it was confirmed; left out before. */
  readonly confirmed?: string;
}

/** Who answered, how, with which remarks and files. */
export const ReplyHead = ({ by, remarks, files, confirmed }: Props) => (
  <dl className="facts weighed">
    <dt>Answered by</dt>
    <dd>{[by.name, by.role, by.contact].filter((part) => part !== undefined).join(", ")}</dd>
    {confirmed === undefined ? null : (
      <>
        <dt>Confirmed</dt>
        <dd>{confirmed}</dd>
      </>
    )}
    {remarks === undefined ? null : (
      <>
        <dt>Remarks</dt>
        <dd>{`“${remarks}”`}</dd>
      </>
    )}
    {files.length === 0 ? null : (
      <>
        <dt>Files that came with it</dt>
        <dd>
          <ul>
            {files.map(({ href, what, name, size }) => (
              <li key={href}>
                <a href={href}>{what}</a>
                {` (${name}, ${sizeWords(size)})`}
              </li>
            ))}
          </ul>
        </dd>
      </>
    )}
  </dl>
);
