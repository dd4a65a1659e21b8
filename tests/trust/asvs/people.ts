import type { Item, Shown } from "./types.ts";

const ACCESS = "tests/access/access.test.ts";
const PASSWORD = "tests/access/password.test.ts";
const FIELDS = "tests/browser/fields.test.ts";
const HEADERS = "tests/browser/headers.test.ts";
const LINK = "tests/access/replyLink.test.ts";
const GUESSING: Shown = [
  ACCESS,
  "a wrong password and an unknown address are told alike, and guessing shuts the door for a while, at once too",
];
const CODE: Shown = [LINK, "a code has more than 128 random bits and two are never alike"];
const NOT_KEPT: Shown = [ACCESS, "no password and no code stands in the database"];
const CHANGE: Shown = [
  ACCESS,
  "who changes his password needs the present one, signs in with the new one, and every older sign-in has ended",
];
const TRIED_FIRST: Shown = [PASSWORD, "what would be tried first is no password: common ones, rows of keys, names, the same signs again"];
const RUNS_OUT: Shown = [ACCESS, "a sign-in runs out after a week without use, and after thirty days however often it is used"];
const OWN_TOKEN: Shown = [
  ACCESS,
  "each sign-in has a token of its own of at least 128 random bits, and none that was shown before is taken over",
];
const BY_SEAL: Shown = [LINK, "what a browser keeps tells its link, for a time, and nobody else's"];

/** Chapters 6 to 9: who somebody is, for how long, and what he may. */
export const PEOPLE: readonly Item[] = [
  {
    id: "6.1.1",
    level: 1,
    what: "written down how guessing is stopped",
    how: "five failed tries in a quarter of an hour shut an account's door, twenty that of a network address, for a quarter of an hour (`lockOut`); whoever shuts another's account out does so for no longer",
    tests: [[ACCESS, "guessing at many accounts from one place shuts that place, and no other"]],
  },
  {
    id: "6.1.2",
    level: 2,
    what: "words that make no password",
    how: "`TRIED_FIRST` in `lib/access/password.ts`, name and address of its owner",
    tests: [TRIED_FIRST],
  },
  {
    id: "6.2.1",
    level: 1,
    what: "at least 8 characters",
    how: "12",
    tests: [[PASSWORD, "is at least 12 and at most 128 characters long"]],
  },
  { id: "6.2.2", level: 1, what: "people change it", how: "page of the account", tests: [CHANGE] },
  { id: "6.2.3", level: 1, what: "with the present one", how: "which is guarded against guessing as well", tests: [CHANGE] },
  {
    id: "6.2.4",
    level: 1,
    what: "not one of the 3,000 most used",
    how: "not met to the letter: an own list of words and rows of keys is taken out of the password, and enough must be left; of the most used hardly any has 12 characters without these",
    tests: [TRIED_FIRST],
    accepted: "a list of 3,000 would be a dependency for a few passwords more",
  },
  {
    id: "6.2.5",
    level: 1,
    what: "any signs",
    how: "no rule of kinds of signs",
    tests: [[PASSWORD, "any other of a fit length is taken, of whatever signs, spaces at its ends among them"]],
  },
  {
    id: "6.2.6",
    level: 1,
    what: "masked",
    how: "`type=password`",
    tests: [[HEADERS, "a password is masked while it is typed, and may come from a program that keeps it"]],
  },
  {
    id: "6.2.7",
    level: 1,
    what: "may be pasted and kept by a program",
    how: "`autocomplete`, no script on it",
    tests: [[HEADERS, "a password is masked while it is typed, and may come from a program that keeps it"]],
  },
  {
    id: "6.2.8",
    level: 2,
    what: "taken as typed",
    how: "neither cut nor trimmed",
    tests: [[FIELDS, "a password is kept and asked for as it was typed, spaces at its ends and all"]],
  },
  {
    id: "6.2.9",
    level: 2,
    what: "64 characters and more",
    how: "up to 128",
    tests: [[PASSWORD, "is at least 12 and at most 128 characters long"]],
  },
  { id: "6.2.11", level: 2, what: "those words are used", how: "as 6.1.2", tests: [TRIED_FIRST] },
  {
    id: "6.3.1",
    level: 1,
    what: "guessing is stopped as written",
    how: "as 6.1.1, counted in the database for all copies",
    tests: [
      GUESSING,
      ["tests/browser/copies.test.ts", "who tries to sign in too fast is turned away by both copies together, with when to try again"],
    ],
  },
  {
    id: "6.3.2",
    level: 2,
    what: "a second factor",
    how: "not met: people of the office sign in with a password alone",
    accepted: "who needs one puts a proxy with the office's own sign-in in front; a second factor of our own is left for later",
  },
  {
    id: "6.3.3",
    level: 2,
    what: "no other ways in",
    how: "password; one-time link that makes an account; private link, which opens one reply and nothing else",
    tests: [[FIELDS, "comes to no address of the office, neither by his cookie nor by his page's token"]],
  },
  { id: "6.3.8", level: 3, what: "nobody learns who has an account", how: "the same words", tests: [GUESSING] },
  {
    id: "6.4.1",
    level: 1,
    what: "first codes are random, short-lived and no password",
    how: "256 bits, once, seven days; the password is the person's own",
    tests: [
      [ACCESS, "the office begins empty; a code makes the first supervisor, once"],
      [ACCESS, "are refused when unknown, used or run out, and only then"],
    ],
  },
  {
    id: "6.4.3",
    level: 2,
    what: "a forgotten password is replaced safely",
    how: "by a one-time link for a day, which a supervisor or whoever runs the program makes and passes on; the person chooses the password, every sign-in from before ends, the log tells who made the link. Whoever passes it on could use it, and the person would notice",
    tests: [
      [
        "tests/access/people.test.ts",
        "a forgotten password is set by a link, once, within a day; sign-ins from before end, and the shut door opens",
      ],
      [FIELDS, "a link for a password sets that of whom it is for and nothing else, whatever the form says"],
    ],
  },
  {
    id: "6.5.1",
    level: 2,
    what: "codes work once",
    how: "invitations; a private link opens until its day, see 14.2.1",
    tests: [[ACCESS, "the office begins empty; a code makes the first supervisor, once"]],
  },
  { id: "6.5.2", level: 2, what: "codes are kept hashed", how: "SHA-256 of 256 random bits", tests: [NOT_KEPT, CODE] },
  { id: "6.5.3", level: 2, what: "codes cannot be foreseen", how: "`randomBytes`", tests: [CODE] },
  {
    id: "7.1.1",
    level: 2,
    what: "times of sign-ins are written down",
    how: "a week without use, thirty days at most (NIST SP 800-63B 4.1.3 for a password alone); a private link is open 24 h after its last use; forms outlive both, so that nothing typed is lost",
    tests: [RUNS_OUT, BY_SEAL],
  },
  {
    id: "7.1.2",
    level: 2,
    what: "how many sign-ins at once",
    how: "as many as somebody has machines; he ends them all at once",
    accepted: "an inspector works at the office and aboard on the same day",
  },
  {
    id: "7.2.1",
    level: 1,
    what: "looked at by the server",
    how: "the session is a row; the reply's cookie is sealed by the server",
    tests: [OWN_TOKEN, BY_SEAL],
  },
  {
    id: "7.2.3",
    level: 1,
    what: "128 random bits",
    how: "32 letters and digits of the library; private links 256 bits",
    tests: [OWN_TOKEN, CODE],
  },
  { id: "7.2.4", level: 1, what: "a new token at each sign-in", how: "none is ever taken over", tests: [OWN_TOKEN] },
  { id: "7.3.1", level: 2, what: "ends unused", how: "after seven days", tests: [RUNS_OUT] },
  { id: "7.3.2", level: 2, what: "ends in any case", how: "after thirty days", tests: [RUNS_OUT] },
  {
    id: "7.4.1",
    level: 1,
    what: "signing out ends it",
    how: "the row goes; pages are not kept by the browser",
    tests: [
      [ACCESS, "signing in gives cookies by which one is known, and signing out everywhere ends all of them"],
      [HEADERS, "after signing out the browser's way back shows nothing of the office"],
    ],
  },
  {
    id: "7.4.2",
    level: 1,
    what: "ends with the account",
    how: "and is looked at with each request",
    tests: [
      [
        "tests/access/people.test.ts",
        "an account with open visits ends only with who takes over; then its sign-ins stop, its name stays, and it can be opened again",
      ],
    ],
  },
  { id: "7.4.3", level: 2, what: "a new password ends the others", how: "all of them, without asking", tests: [CHANGE] },
  {
    id: "7.4.4",
    level: 2,
    what: "the way out on every page",
    how: "in the head of every page of the office",
    tests: [[HEADERS, "every page of the office has the way out on it"]],
  },
  {
    id: "7.4.5",
    level: 2,
    what: "a supervisor ends sign-ins",
    how: "page of the person",
    tests: [[HEADERS, "a supervisor ends every sign-in of somebody, and who signs out is known no more"]],
  },
  {
    id: "7.5.1",
    level: 2,
    what: "asked anew before what guards the account is changed",
    how: "the password is; the address is changed by nobody",
    tests: [CHANGE],
  },
  {
    id: "7.5.2",
    level: 2,
    what: "people see and end their sign-ins",
    how: "not met in part: everybody ends all of his at once, without his password; they are not listed",
    tests: [[ACCESS, "signing in gives cookies by which one is known, and signing out everywhere ends all of them"]],
    accepted: "whoever sits at an open sign-in can only end it",
  },
  {
    id: "8.1.1",
    level: 1,
    what: "written down who may what",
    how: "`lib/access/rules.ts`, one line for each address",
    tests: [["tests/browser/doors.test.ts", "every address has a rule, and every rule an address"]],
  },
  {
    id: "8.1.2",
    level: 2,
    what: "and which fields",
    how: "a vessel fills in what its letter asked (`Asked`); an office page what it shows; role, owner and approval are acts of their own",
    tests: [[FIELDS, "fills in the fields that his letter asks and no others, whatever his form says"]],
  },
  {
    id: "8.2.1",
    level: 1,
    what: "acts only for whom they are meant",
    how: "every address is tried with every role",
    tests: [
      ["tests/browser/doors.test.ts", "%s"],
      [FIELDS, "comes to nothing that is a supervisor's, by reading or writing"],
    ],
  },
  {
    id: "8.2.2",
    level: 1,
    what: "and only on what is theirs",
    how: "`mayOpen` a visit; a private link leads to one letter, whatever else is named",
    tests: [
      [FIELDS, "comes to nothing of another inspector's visit, by reading or writing"],
      [FIELDS, "takes away no file of another letter, and sees none"],
      ["tests/usecases/files.test.ts", "is given out to its own visit only, numbered by its place among the letter's files"],
    ],
  },
  {
    id: "8.2.3",
    level: 2,
    what: "and only on fields that are theirs",
    how: "fields are named by the page's own list",
    tests: [
      [FIELDS, "fills in the fields that his letter asks and no others, whatever his form says"],
      [FIELDS, "makes himself no supervisor and nobody else the owner, whatever his forms say"],
      [FIELDS, "reads his own letter only, and nothing of the office beside it"],
    ],
  },
  {
    id: "8.3.1",
    level: 1,
    what: "decided by the server",
    how: "pages work without scripts",
    tests: [["tests/browser/doors.test.ts", "%s is refused, changes nothing and is logged"]],
  },
  {
    id: "8.3.2",
    level: 3,
    what: "changes hold at once",
    how: "role, end of an account and who stands in are read with each request",
    tests: [
      ["tests/browser/doors.test.ts", "opens and changes the visits while it lasts, sees them in the list, and neither before nor after"],
    ],
  },
  {
    id: "9.1.1",
    level: 1,
    what: "tokens are sealed",
    how: "HMAC-SHA-256",
    tests: [["tests/access/formToken.test.ts", "changed anywhere, or sealed with another secret, it is none"]],
  },
  {
    id: "9.2.1",
    level: 1,
    what: "and run out",
    how: "the instant is sealed with it",
    tests: [["tests/access/formToken.test.ts", "tells whose form it is until it runs out"]],
  },
  { id: "9.2.2", level: 2, what: "and are for one thing", how: "the use is sealed with it", tests: [BY_SEAL] },
];
