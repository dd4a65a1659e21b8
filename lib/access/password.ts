export const SHORTEST_PASSWORD = 12;
export const LONGEST_PASSWORD = 128;

/** Fewer different signs than these are a pattern, however long it is. */
const FEWEST_SIGNS = 6;
/** So many signs must be left beside what anybody would try first. */
const FEWEST_OWN = 6;

/** What is tried first: words of the trade and of this program, what people take for passwords, rows of the keyboard. Without spaces, in small letters. */
const TRIED_FIRST: readonly string[] = [
  ...["forehail", "inspector", "inspection", "supervisor", "office", "vessel", "generator", "surveyor", "captain", "chief", "engineer"],
  ...[
    "administrator",
    "admin",
    "password",
    "passwort",
    "passw0rd",
    "p4ssword",
    "letmein",
    "welcome",
    "changeme",
    "default",
    "secret",
    "login",
  ],
  ...["iloveyou", "football", "baseball", "princess", "sunshine", "superman", "trustno1", "monkey", "dragon", "master", "shadow"],
  ...[
    "1q2w3e4r5t6y",
    "1q2w3e4r5t",
    "1q2w3e4r",
    "1qaz2wsx3edc",
    "1qaz2wsx",
    "qazwsxedc",
    "zaq12wsx",
    "qwertyuiop",
    "qwertzuiop",
    "azertyuiop",
  ],
  ...["asdfghjkl", "zxcvbnm", "qwerty", "qwertz", "azerty", "asdfgh", "abcdefghijkl", "abcdefgh", "abcdef", "abc123", "abcd", "abc"],
  ...[
    "1234567890",
    "123456789",
    "12345678",
    "1234567",
    "123456",
    "12345",
    "1234",
    "123",
    "0987654321",
    "987654321",
    "654321",
    "4321",
    "321",
  ],
];

const squeezed = (text: string): string => text.toLowerCase().replaceAll(/[\s._@,-]/g, "");

/** Words of what is known of its owner, by which nobody is hindered to write a sentence. */
const wordsOf = (about: readonly string[]): readonly string[] =>
  about.flatMap((text) => [squeezed(text), ...text.toLowerCase().split(/[\s._@,-]+/)]).filter((word) => word.length >= 4);

/** Why a password cannot be taken, to be read behind "the password"; null where it can. `about` is what others know of its owner: name, address. Pure. */
export const unfitBecause = (password: string, about: readonly string[]): string | null => {
  if (password.length < SHORTEST_PASSWORD || password.length > LONGEST_PASSWORD)
    return `needs at least ${SHORTEST_PASSWORD} characters and at most ${LONGEST_PASSWORD}`;
  if (new Set(password).size < FEWEST_SIGNS) return `needs at least ${FEWEST_SIGNS} different characters`;
  const known = [...wordsOf(about), ...TRIED_FIRST].sort((one, other) => other.length - one.length);
  const own = known.reduce((rest, word) => rest.replaceAll(word, ""), squeezed(password));
  return own.length >= FEWEST_OWN
    ? null
    : `is one that would be tried first: beside names, common words and rows of keys it needs at least ${FEWEST_OWN} characters`;
};
