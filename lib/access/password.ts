export const SHORTEST_PASSWORD = 12;
export const LONGEST_PASSWORD = 128;
