import { join, resolve } from "node:path";
import { setIn } from "../usecases/settings.ts";

/** Where the server has its data, its mails and its database, as the environment of a command says. */
export const env = setIn(process.env);
export const data = resolve(env["FOREHAIL_DATA"] ?? "data");
export const office = env["DATABASE_URL"] ?? join(data, "office.db");
export const outbox = join(data, "outbox");
