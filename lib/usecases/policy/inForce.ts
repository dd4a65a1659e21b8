import { type OfficePolicy, officePolicySchema } from "../../model/officePolicy.ts";
import type { Store } from "../../store/store.ts";

/** The office's policy on a day. */
export const policyInForce = async (
  _store: Store,
  _day: string,
): Promise<{ readonly number: number; readonly since: string | null; readonly policy: OfficePolicy }> => ({
  number: 0,
  since: null,
  policy: officePolicySchema.parse({}),
});
