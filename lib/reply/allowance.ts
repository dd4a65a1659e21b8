/** How much was asked for in a thread that may have only so much. */
export interface Allowance {
  readonly isUsedUp: () => boolean;
}

/**
 * Lets this thread take so many bytes for lists of bytes, all of them together, and throws beyond. The limits of a worker bound its heap only: what a
 * packed part of a file unpacks to lies outside of it, and could take the memory of the whole process.
 */
export const allowBytes = (most: number): Allowance => {
  let left = most;
  const Counted: Uint8ArrayConstructor = new Proxy(Uint8Array, {
    construct: (own, given, caller) => {
      const [size] = given;
      if (typeof size === "number") left -= size;
      if (left < 0) throw new RangeError("more memory than a form needs");
      return Reflect.construct(own, given, caller === Counted ? own : caller);
    },
  });
  globalThis.Uint8Array = Counted;
  return { isUsedUp: () => left < 0 };
};
