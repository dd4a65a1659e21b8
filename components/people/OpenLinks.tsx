import { Hidden } from "../form/Fields.tsx";
import { Scroll } from "../frame/Scroll.tsx";

/** A link that was not used yet, in words. */
export interface OpenLink {
  readonly id: string;
  /** What it is called by, in the log too. */
  readonly name: string;
  /** What it makes or sets. */
  readonly opens: string;
  readonly madeBy: string;
  readonly made: string;
  readonly until: string;
}

interface Props {
  readonly token: string;
  readonly links: readonly OpenLink[];
}

/** Links that can still be taken up, each with what withdraws it; nothing where there are none. */
export const OpenLinks = ({ token, links }: Props) =>
  links.length === 0 ? null : (
    <>
      <h2>Links not used yet</h2>
      <Scroll label="Links not used yet">
        <table className="cards">
          <thead>
            <tr>
              <th scope="col">Link</th>
              <th scope="col">For</th>
              <th scope="col">Made by</th>
              <th scope="col">Made</th>
              <th scope="col">Opens until</th>
              <th scope="col">Withdraw</th>
            </tr>
          </thead>
          <tbody>
            {links.map(({ id, name, opens, madeBy, made, until }) => (
              <tr key={id}>
                <th scope="row">{name}</th>
                <td data-label="For">{opens}</td>
                <td data-label="Made by">{madeBy}</td>
                <td data-label="Made">{made}</td>
                <td data-label="Opens until">{until}</td>
                <td>
                  <form method="post" action="/people/withdraw">
                    <Hidden values={{ token, id }} />
                    <button type="submit" className="second" aria-label={`Withdraw ${name}, for ${opens}`}>
                      Withdraw
                    </button>
                  </form>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </>
  );
