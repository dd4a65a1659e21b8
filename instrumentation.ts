import { awayBecause } from "./lib/store/dialects/away.ts";
import { noteAway } from "./lib/store/dialects/awayNow.ts";

/** Opens the office when the server starts, so that a database that cannot be opened is told at once, and not by the first page. */
export const register = async (): Promise<void> => {
  if (process.env["NEXT_RUNTIME"] !== "nodejs") return;
  const { startOffice } = await import("./app/_server/office.ts");
  await startOffice();
};

/** A page or file that failed since the database is away is told so by the server in front, which sees the answer only. */
export const onRequestError = (error: unknown): void => {
  const why = awayBecause(error);
  if (why !== null) noteAway(why);
};
