import type { FactSpec } from "./fact.ts";
export interface Usual {
  readonly at: string;
  readonly from: number;
  readonly to: number;
  readonly cite: string;
  readonly mark: "read" | "practice";
}
export const unlikely = (_spec: FactSpec, _value: number): Usual | undefined => undefined;
