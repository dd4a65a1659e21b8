/** Marks a branch that the types prove unreachable; reaching it is a fault of the program, so it throws. */
export const unreachable = (value: never): never => {
  throw new Error(`unreachable case: ${JSON.stringify(value)}`);
};
