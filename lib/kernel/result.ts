/** An expected outcome: a value, or the faults that kept it from being one. Expected failures are returned, never thrown. */
export type Result<Value, Fault = string> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly faults: readonly Fault[] };

export const success = <Value>(value: Value): Result<Value, never> => ({ ok: true, value });

export const failure = <Fault>(...faults: readonly Fault[]): Result<never, Fault> => ({ ok: false, faults });

/** `failure` with a list of faults: one from outside may be longer than what a function can be called with. */
export const failedBy = <Fault>(faults: readonly Fault[]): Result<never, Fault> => ({ ok: false, faults });
