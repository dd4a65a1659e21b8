import { failure, type Result, success } from "../../../lib/kernel/result.ts";
import { messageOf } from "../../../lib/model/fault.ts";
import { parseJson } from "../../../lib/usecases/parseJson.ts";
import { beginWhatIf, startWhatIf, type Trying } from "../../../lib/usecases/review/whatIf.ts";
import { said, see, textIn, type WritingPerson, writeOfPerson } from "../../_server/gate.ts";

const LARGEST_RULEBOOK = 4 * 1024 * 1024;

const fileIn = async (form: FormData): Promise<Result<Trying>> => {
  const file = form.get("file");
  if (!(file instanceof File) || file.size === 0) return failure("Rulebook: given no file; wanted one such as npm run rulebook prints");
  if (file.size > LARGEST_RULEBOOK) return failure(`Rulebook: given ${(file.size / 1024 / 1024).toFixed(1)} MB; wanted at most 4 MB`);
  const document = parseJson(await file.text(), "a rulebook");
  if (!document.ok) return failure(...document.faults.map((fault) => `Rulebook: ${messageOf(fault)}`));
  return success({ sort: "file", name: file.name.slice(0, 120), document: document.value });
};

const tryingIn = async ({ form }: WritingPerson): Promise<Result<Trying>> => {
  const what = textIn(form, "what");
  if (what === "rulebook") return success({ sort: "rulebook" });
  if (what === "file") return fileIn(form);
  const number = textIn(form, "policy");
  return /^\d{1,9}$/.test(number)
    ? success({ sort: "policy", number: Number(number) })
    : failure("Policy: given none; wanted one of those written");
};

export const POST = writeOfPerson("POST /what-if/start", async (writing) => {
  const { office, form, person, log } = writing;
  const field = textIn(form, "what") === "file" ? "file" : "policy";
  const trying = await tryingIn(writing);
  const begun = trying.ok ? await beginWhatIf(office, trying.value, person.id) : trying;
  if (!begun.ok) {
    await log("refused", "what if", begun.faults.join("; ").slice(0, 500));
    return see(`/what-if?${said(office, { problem: begun.faults.join("\n"), field })}#problems`);
  }
  const whatIf = await office.store.whatIf(begun.value);
  await log(
    "what if tried",
    "what if",
    trying.ok && trying.value.sort === "policy" ? `policy ${trying.value.number}` : textIn(form, "what"),
  );
  if (whatIf !== null) startWhatIf(office, whatIf);
  return see(`/what-if/${begun.value}`);
});
