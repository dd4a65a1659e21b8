import type { Result } from "../kernel/result.ts";
import { letterOf } from "../letter/letter.ts";
import { openRenderer } from "../letter/render.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";
import type { Planned } from "./planFile.ts";

/** Writes the letters of planned visits, one after the other in one worker. */
export interface Letters {
  /** Starts the worker, so that it is ready by the time the first plan is. */
  readonly warm: () => void;
  readonly render: (planned: Planned, rulebook: Rulebook) => Promise<Result<Uint8Array>>;
  readonly close: () => Promise<void>;
}

export const letterFor = (units: UnitSystem): Letters => {
  const renderer = openRenderer();
  return {
    warm: renderer.warm,
    render: ({ plan, read }, rulebook) => renderer.render(letterOf({ plan, read, rulebook, units })),
    close: renderer.close,
  };
};
