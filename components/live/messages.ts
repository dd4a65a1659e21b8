import type { FieldErrors } from "react-hook-form";
import type { Typed } from "../../lib/flow/fields.ts";
import type { Live } from "../../lib/flow/live.ts";

/** What stands typed on a page, by pointer. */
export type TypedPage = Readonly<Record<string, Typed>>;

/** What a page asks of the core. */
export type Asking =
  | { readonly kind: "start"; readonly rulebook: string; readonly file: string; readonly path: string }
  | { readonly kind: "live"; readonly number: number; readonly typed: TypedPage }
  | { readonly kind: "check"; readonly number: number; readonly typed: TypedPage };

/** What a page's resolver gives back. */
export interface Resolved {
  readonly values: Record<string, unknown>;
  readonly errors: FieldErrors;
}

export interface Told {
  readonly number: number;
  readonly live?: Live;
  readonly resolved?: Resolved;
}
