import { Scroll } from "../frame/Scroll.tsx";

/** One entry of the log, in words. */
export interface LogLine {
  readonly id: number;
  readonly when: string;
  readonly who: string;
  readonly act: string;
  readonly subject: string;
  /** As it is kept, where the words say something else. */
  readonly kept?: string;
  readonly detail: string;
}

/** Entries of the log, the latest first. */
export const LogTable = ({ lines }: { readonly lines: readonly LogLine[] }) => (
  <Scroll label="Log">
    <table className="cards">
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col">Who</th>
          <th scope="col">What</th>
          <th scope="col">On</th>
          <th scope="col">More</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ id, when, who, act, subject, kept, detail }) => (
          <tr key={id}>
            <td data-label="When">{when}</td>
            <td data-label="Who">{who}</td>
            <td data-label="What">{act}</td>
            <td data-label="On" title={kept}>
              {subject}
            </td>
            <td data-label="More">{detail}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);
