import type { FoundPerson, PrivacyStore } from "../../store/privacy/privacy.ts";

export const COPY_FORMAT = "forehail person 1";

/** A copy of everything that the office keeps about a person, as JSON that a program can read. */
export const copyOf = (privacy: Pick<PrivacyStore, "places">, person: FoundPerson, when: string): string =>
  `${JSON.stringify(
    {
      format: COPY_FORMAT,
      made: when,
      person: { accounts: person.sought.accounts, addresses: person.sought.emails, names: person.sought.names },
      places: privacy.places(person),
      lettersThatMayNameThePerson: person.letters,
      files: person.files,
    },
    null,
    2,
  )}\n`;
