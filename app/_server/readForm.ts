import { failure, type Result, success } from "../../lib/kernel/result.ts";
import { megabytes } from "../../lib/letter/sizes.ts";
import { LARGEST_UPLOAD } from "../../lib/reply/fileKind.ts";

/** Why a form was not read, as the answer to it says. */
export interface Unread {
  readonly status: 400 | 413;
  readonly words: string;
}

const BESIDE_FILE = 256 * 1024;

/**
 * A form with one file that comes with a reply, in bytes. It stays far under what the framework holds of a body for `proxy.ts`
 * (`next.config.ts`): of a larger one it would hand on the beginning only, and not say so.
 */
export const LARGEST_UPLOAD_FORM = LARGEST_UPLOAD + BESIDE_FILE;

const tooLarge = (most: number): Unread => ({ status: 413, words: `this is too large: at most ${megabytes(most)} can be sent at once` });
const BROKEN_OFF: Unread = { status: 400, words: "this broke off on its way; send it once more" };
const NO_FORM: Unread = { status: 400, words: "this is no form" };

/** What is wrong with a body before any of it is read, by the length that its sender tells; null where nothing is, or where he tells none. */
export const tellsTooMuch = (headers: Headers, most: number): Unread | null =>
  Number(headers.get("content-length") ?? 0) > most ? tooLarge(most) : null;

/** A body as it comes, counted while it is read: what goes beyond the most is neither kept nor waited for. */
const bytesOf = async (body: ReadableStream<Uint8Array>, most: number): Promise<Result<readonly Uint8Array[], Unread>> => {
  const reader = body.getReader();
  const parts: Uint8Array[] = [];
  let count = 0;
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      count += part.value.byteLength;
      if (count > most) {
        await reader.cancel();
        return failure(tooLarge(most));
      }
      parts.push(part.value);
    }
  } catch {
    return failure(BROKEN_OFF);
  }
  return success(parts);
};

/** A body can be read once; what it held is known as long as its request. */
const readAlready = new WeakMap<Request, FormData>();

const HELD = 1024 * 1024;

/** The form of a request once more, or now if nobody has read it; null where it brings none that can be read. */
export const formRead = async (request: Request): Promise<FormData | null> => {
  const already = readAlready.get(request);
  if (already !== undefined) return already;
  if (request.bodyUsed) return null;
  const read = await readBody(request, HELD);
  return read.ok ? read.value : null;
};

/** No page sends the sign NUL, and one of the databases keeps no text with it. */
const hasNul = (form: FormData): boolean =>
  [...form].some(([name, value]) => name.includes("\0") || (typeof value === "string" ? value : value.name).includes("\0"));

/** The form that a request brings, if it has at most so many bytes, whatever length it tells. */
export const readBody = async (request: Request, most: number): Promise<Result<FormData, Unread>> => {
  const told = tellsTooMuch(request.headers, most);
  if (told !== null) return failure(told);
  if (request.body === null) return failure(NO_FORM);
  const parts = await bytesOf(request.body, most);
  if (!parts.ok) return parts;
  const headers = { "content-type": request.headers.get("content-type") ?? "" };
  const form = await new Response(Buffer.concat(parts.value), { headers }).formData().catch(() => null);
  if (form === null || hasNul(form)) return failure(NO_FORM);
  readAlready.set(request, form);
  return success(form);
};
