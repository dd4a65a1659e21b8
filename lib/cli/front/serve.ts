import { setTimeout as pause } from "node:timers/promises";
import { quoted } from "../../model/fault.ts";
import { logError } from "../../outside/logLine.ts";
import { awayBecause } from "../../store/dialects/away.ts";
import { noteAway } from "../../store/dialects/awayNow.ts";
import type { Settings } from "../../usecases/settings.ts";
import { runningOffice } from "./health.ts";
import { frontServer } from "./server.ts";

/** In milliseconds. */
const LATER = 250;

/**
 * Whoever sent a form was gone before all of it was here: nothing of ours failed, and the line of the request says that it was cut. Its code is one that a
 * database that broke off has too, and it must not be taken for that.
 */
const isBrokenOff = (error: Error): boolean => error.message === "aborted" && Reflect.get(error, "code") === "ECONNRESET";

/** What the framework prints of errors repeats what people wrote; of these only name and place are logged, and nothing of the rest. */
const quieten = (): void => {
  const tell = (...given: readonly unknown[]): void => {
    for (const error of given.filter((one) => one instanceof Error && !isBrokenOff(one))) {
      // A page or file that failed since the database is away is told so by the server in front, which sees the answer only; nobody else knows before that.
      const why = awayBecause(error);
      if (why !== null) noteAway(why);
      // Told later than by whoever knows the request it belongs to; each error is told once.
      setTimeout(() => logError("framework", error), LATER).unref();
    }
  };
  console.error = tell;
  console.warn = tell;
};

/** An error that nobody caught is logged and ends nothing: else whoever finds a request that makes one could keep the office shut. */
const logUncaught = (error: unknown): void => logError("uncaught", error);

/**
 * Whoever reads what is printed may go, or his disk may be full: then lines are lost, and the office stays open. Unheard, the failure of each line would be one
 * more line that fails, without end.
 */
const printIntoTheVoid = (): void => {
  for (const stream of [process.stdout, process.stderr]) stream.on("error", () => undefined);
};

/** Why nobody can listen there, by the variable that says where. */
const listenFault = ({ HOST, PORT }: Settings, error: Error): string => {
  switch (Reflect.get(error, "code")) {
    case "ENOTFOUND":
    case "EAI_AGAIN":
    case "EADDRNOTAVAIL":
      return `HOST: given ${quoted(HOST)}; wanted a name or address of this machine`;
    case "EADDRINUSE":
      return `PORT: given ${quoted(PORT)}; wanted a port at which nothing listens yet`;
    case "EACCES":
      return `PORT: given ${quoted(PORT)}; wanted one at which this program may listen, such as one from 1024`;
    default:
      return error.message;
  }
};

/** Waits for the office, which is opened beside the pages (`instrumentation.ts`): where it cannot be, the program says so and ends. */
const untilOpen = async (): Promise<void> => {
  while (runningOffice() === undefined) await pause(LATER);
  await runningOffice()?.catch(() => undefined);
};

/** Serves the pages until it is told to stop. */
export const servePages = async (settings: Settings): Promise<void> => {
  printIntoTheVoid();
  const [port, hostname] = [Number(settings.PORT), settings.HOST];
  // Loaded only once the settings are right.
  const { default: next } = await import("next");
  const app = next({ dev: false, dir: process.cwd(), hostname, port });
  await app.prepare();
  quieten();
  process.removeAllListeners("uncaughtException").on("uncaughtException", logUncaught);
  const server = frontServer(settings, app.getRequestHandler());
  server.on("error", (error) => {
    process.stderr.write(`The pages cannot be served. ${listenFault(settings, error)}\n`);
    process.exit(1);
  });
  server.listen(port, hostname, async () => {
    await untilOpen();
    process.stdout.write(`Forehail is open at http://${hostname}:${port}\n`);
  });
};
