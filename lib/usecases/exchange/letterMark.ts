/** How the marks of a visit's letter begin, by its number; the plan that it was made from ends them. */
export const markBegins = (visit: string, number: number): string => `${visit.slice(0, 8)}-${number}-`;
