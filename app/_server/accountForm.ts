import { linkIdOf, linkName } from "../../lib/access/invitation.ts";
import { isEmail, text } from "../../lib/model/text.ts";
import { ADDRESS_HEADER } from "../../lib/outside/underWay.ts";
import { capital } from "../../lib/plan/say.ts";
import { said, see, textIn, type Writing } from "./gate.ts";

const LONGEST = 120;
/** What is shown again goes through the address, which must not grow with what was sent. */
export const SHOWN_AGAIN = 200;

const NO_CODE = "Code: given none that opens this office; copy it from the console, where each start of the program prints a new one";

/** Takes up an invitation with what a form of an account holds, signs the person in, and goes to the visits; or back with what is wrong. */
export const takeUp = async ({ form, office, log, request }: Writing, page: string): Promise<Response> => {
  const [code, name, email] = ["code", "name", "email"].map((field) => textIn(form, field).trim());
  // As it was typed: it is never trimmed where he signs in.
  const password = textIn(form, "password");
  const again = (problem: string): Response => {
    const query = new URLSearchParams({
      name: (name ?? "").slice(0, SHOWN_AGAIN),
      email: (email ?? "").slice(0, SHOWN_AGAIN),
      ...(page === "/join" ? { code: (code ?? "").slice(0, SHOWN_AGAIN) } : {}),
    });
    return see(`${page}?${query}&${said(office, { problem })}`);
  };
  const named = text(LONGEST).safeParse(name);
  if (!named.success) return again(`Your name: ${named.error.issues[0]?.message ?? "wanted"}`);
  if (email === undefined || !isEmail(email) || email.length > LONGEST)
    return again("E-mail address: wanted one such as mara@office.example");
  if (page === "/set-up" && !(await office.accounts.isEmpty()))
    return see(`/sign-in?${said(office, { problem: "This office is set up already; sign in, or ask its supervisor for a link" })}`);
  if (page === "/set-up" && (await office.accounts.refused(code ?? "", office.clock())) !== null) {
    await log("refused", "account", NO_CODE);
    return again(NO_CODE);
  }
  const made = await office.accounts.takeUp(code ?? "", { name: named.data, email: email.toLowerCase(), password }, office.clock());
  if (!made.ok) {
    await log("refused", "account", made.faults.join("; "));
    return again(made.faults.map(capital).join("; "));
  }
  await log("account made", made.value.id, `${made.value.name}, ${made.value.role}, by ${linkName(linkIdOf(code ?? ""))}`);
  const signedIn = await office.accounts.signIn(email, password, addressOf(request), office.clock());
  return signedIn.ok ? see("/visits", signedIn.value.cookies) : see("/sign-in");
};

/** Where a request comes from, for counting tries: as the server in front tells it. */
export const addressOf = (request: Request): string => request.headers.get(ADDRESS_HEADER) ?? "unknown";
