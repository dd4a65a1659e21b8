import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { vesselOf } from "../../lib/usecases/visits/visitDraft.ts";
import { admitPerson } from "../_server/gate.ts";
import { instant, namesIn } from "../_server/words.ts";

const SHOWN = 200;
/** So many visits are named, the last changed first; an older one stands there by its id. */
const MOST_VISITS = 2_000;

const Log = async () => {
  const { office, person, token } = await admitPerson("GET /log");
  const entries = await office.store.audited(SHOWN);
  const nameOf = await namesIn(office);
  const vessels = new Map((await office.store.listVisits({ limit: MOST_VISITS })).map(({ id, frame }) => [id, vesselOf(frame as object)]));
  /** What an entry is about, in words where it is a visit or somebody of the office. */
  const named = (subject: string): string => {
    const vessel = vessels.get(subject);
    if (vessel !== undefined) return vessel === "" ? "a visit of a vessel not named yet" : vessel;
    const person = nameOf(subject);
    return person === "somebody" ? subject : person;
  };
  return (
    <Page title="Log" person={person} token={token} back={{ href: "/visits", words: "All visits" }} wide>
      <p>{`What was done and what was refused, the latest first; the last ${SHOWN}. The program adds to it and can change none of it.`}</p>
      <Scroll label="Log">
        <table>
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
            {entries.map(({ when, who, act, subject, detail }) => (
              <tr key={JSON.stringify([when, who, act, subject, detail])}>
                <td>{instant(when)}</td>
                <td>{who === "nobody" ? "nobody signed in" : nameOf(who)}</td>
                <td>{act}</td>
                <td title={named(subject) === subject ? undefined : subject}>{named(subject)}</td>
                <td>{detail}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </Page>
  );
};

export default Log;
