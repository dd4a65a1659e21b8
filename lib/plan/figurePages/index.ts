import { boardPages } from "./board.ts";
import { emergencyPages } from "./emergency.ts";
import { generalPages } from "./general.ts";
import { sensorPages } from "./sensors.ts";
import { speedPages } from "./speeds.ts";
import { storePages } from "./stores.ts";
import type { FigurePage } from "./types.ts";

/** Every figure of the trade that has a page, by the file of `lib/figures` that holds its arithmetic. */
export const figurePages: readonly FigurePage[] = [
  ...speedPages,
  ...sensorPages,
  ...boardPages,
  ...storePages,
  ...emergencyPages,
  ...generalPages,
];
