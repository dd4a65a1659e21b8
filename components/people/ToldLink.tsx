import { linkIdOf, linkName } from "../../lib/access/invitation.ts";

interface Props {
  /** The office's address. */
  readonly url: string;
  /** Of the link that was just made; none where it was told before. */
  readonly code: unknown;
  /** What it does, behind "It": "makes one account". */
  readonly does: string;
  /** Where an open link is withdrawn. */
  readonly withdrawn: string;
}

/** A link that was just made, once; told before, that it is not told again. */
export const ToldLink = ({ url, code, does, withdrawn }: Props) =>
  typeof code === "string" ? (
    <div className="note" role="status">
      <p>{`Pass this link on to the one person it is for. It ${does}, and is not shown again. In the log it is called ${linkName(linkIdOf(code))}.`}</p>
      <code className="code">{`${url}/join?code=${code}`}</code>
    </div>
  ) : (
    <p className="note" role="status">
      {`A link is shown once. If this one was not passed on, withdraw it ${withdrawn} and make another.`}
    </p>
  );
