import { bookAt } from "../../lib/rulebook/places.ts";
import type { WayPart } from "../../lib/usecases/review/findingView.ts";

/** The methods of a way, each leading to its page of the rulebook. */
export const Ways = ({ ways }: { readonly ways: readonly WayPart[] }) =>
  ways.length === 0 ? (
    <span className="way-words">nothing acceptable</span>
  ) : (
    <span className="way-words">
      {ways.map(({ id, name }, place) => (
        <span key={id}>
          {place === 0 ? "" : " and "}
          <a href={bookAt("methods", id)}>{name}</a>
        </span>
      ))}
    </span>
  );
