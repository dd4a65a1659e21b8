/** A request while it is answered. */
export interface UnderWay {
  /** Id of who is signed in, once that is known. */
  person?: string;
}

/** Server and pages are bundled apart from each other; what they share hangs on the process. */
const shared = globalThis as typeof globalThis & { forehailUnderWay?: Map<string, UnderWay> };
shared.forehailUnderWay ??= new Map();

/** Requests by their number. */
export const underWay: Map<string, UnderWay> = shared.forehailUnderWay;

/** The request's number, as the server in front told it to the pages. */
export const REQUEST_HEADER = "x-forehail-request";
/** The address that the request comes from. */
export const ADDRESS_HEADER = "x-forehail-address";

/** Notes who a request is from. */
export const isFrom = (headers: Headers, person: string): void => {
  const entry = underWay.get(headers.get(REQUEST_HEADER) ?? "");
  if (entry !== undefined) entry.person = person;
};
