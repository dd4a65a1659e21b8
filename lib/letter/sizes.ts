import { formatNumber } from "../units/units.ts";

export const MEGABYTE = 1_000_000;

/** Bytes in tenths of a megabyte, rounded up: what is a byte over a limit is not told to be the limit. */
export const megabytes = (bytes: number): string => `${formatNumber(Math.ceil((bytes * 10) / MEGABYTE) / 10, 1)} MB`;

const KILOBYTE = 1000;

/** The size of a file as every page shows it: whole kilobytes, from a megabyte on tenths of it. */
export const sizeWords = (bytes: number): string => {
  const kilobytes = Math.max(1, Math.ceil(bytes / KILOBYTE));
  return kilobytes * KILOBYTE < MEGABYTE ? `${kilobytes} kB` : megabytes(bytes);
};
