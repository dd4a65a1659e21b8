import type { Person } from "../../lib/access/accounts.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import type { Tell } from "../../lib/letter/render.ts";
import type { Mailbox } from "../../lib/outside/mail.ts";
import type { UnitSystem } from "../../lib/units/units.ts";
import type { SendingWorld } from "../../lib/usecases/exchange/send.ts";
import type { Letters } from "../../lib/usecases/letterFor.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { policyNow } from "../../lib/usecases/policy/inForce.ts";

/** The office's renderers as whoever makes a letter of a visit wants them. */
export const lettersIn = ({ letters }: Office, units: UnitSystem, tell: Tell): Pick<Letters, "render"> => ({
  render: ({ plan, read }, rulebook) => letters.render(letterOf({ plan, read, rulebook, units }), tell),
});

/** A person of the office as whom a mail comes from. */
export const senderOf = ({ name, email }: Person): Mailbox => ({ name, address: email });

/** The units that were chosen; the office's where none were. */
export const unitsIn = (given: string | null | undefined, usual: UnitSystem = "metric"): UnitSystem =>
  given === "us" || given === "metric" ? given : usual;

/** The units that the office writes its letters in, unless others are chosen. */
export const usualUnits = async (office: Office): Promise<UnitSystem> => (await policyNow(office)).policy.units;

/** The office as whoever sends something to the vessel wants it. */
export const sendingFrom = ({ store, world, planner, letters, post, url }: Office, tell?: Tell): SendingWorld => ({
  store,
  world,
  planner,
  render: (letter) => letters.render(letter, tell),
  post,
  url,
});
