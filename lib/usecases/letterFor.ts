import type { Result } from "../kernel/result.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";
import type { Planned } from "./planFile.ts";

/** Renders letters one after the other in one worker, which is only started when the first is asked for. */
export interface Letters {
  readonly render: (planned: Planned, rulebook: Rulebook) => Promise<Result<Uint8Array>>;
  readonly close: () => Promise<void>;
}

export const letterFor = (units: UnitSystem): Letters => {
  let open:
    | Promise<{
        readonly letter: typeof import("../letter/letter.ts");
        readonly renderer: ReturnType<typeof import("../letter/render.ts").openRenderer>;
      }>
    | undefined;
  const start = () =>
    Promise.all([import("../letter/letter.ts"), import("../letter/render.ts")]).then(([letter, render]) => ({
      letter,
      renderer: render.openRenderer(),
    }));
  return {
    render: async ({ plan, read }, rulebook) => {
      open ??= start();
      const { letter, renderer } = await open;
      return renderer.render(letter.letterOf({ plan, read, rulebook, units }));
    },
    close: async () => {
      if (open !== undefined) await (await open).renderer.close();
    },
  };
};
