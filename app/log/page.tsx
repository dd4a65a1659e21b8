import { Page } from "../../components/frame/Page.tsx";
import { Scroll } from "../../components/frame/Scroll.tsx";
import { admitPerson } from "../_server/gate.ts";
import { instant, namesIn } from "../_server/words.ts";

const SHOWN = 200;

const Log = async () => {
  const { office, person, token } = await admitPerson("GET /log");
  const entries = await office.store.audited(SHOWN);
  const nameOf = await namesIn(office);
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
                <td>{subject}</td>
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
