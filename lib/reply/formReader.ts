import { parentPort } from "node:worker_threads";
import { getDocument, VerbosityLevel } from "pdfjs-dist/legacy/build/pdf.mjs";
import { allowBytes } from "./allowance.ts";

/** What the packed parts of a form may unpack to, in bytes; our letters come to a few megabytes. */
const MOST_UNPACKED = 256 * 1024 * 1024;

const unpacked = allowBytes(MOST_UNPACKED);

/** A field of a form: its full name, and what stands in it; empty where nothing does. */
export interface FormValue {
  readonly name: string;
  readonly value: string;
}

/** What was found in a PDF file. */
export type FormRead =
  | { readonly found: "fields"; readonly fields: readonly FormValue[] }
  | { readonly found: "xfa" }
  | { readonly found: "password" }
  | { readonly found: "no form" }
  | { readonly found: "damage" }
  /** It takes more time or memory than it is given. */
  | { readonly found: "too slow" };

/** Whether an unknown thing has a key that is a text. */
const textAt = (thing: object, key: string): string | undefined => {
  const value: unknown = Reflect.get(thing, key);
  return typeof value === "string" ? value : undefined;
};

/** A field may be shown at several places; what is not empty counts. */
const shownIn = (places: readonly object[]): string =>
  places.map((place) => textAt(place, "value") ?? "").find((value) => value !== "") ?? "";

const fieldsIn = async (bytes: Uint8Array): Promise<FormRead> => {
  // Only the form is read: nothing of the file is drawn, run or fetched.
  const loading = getDocument({
    data: bytes,
    verbosity: VerbosityLevel.ERRORS,
    isEvalSupported: false,
    useSystemFonts: false,
    disableFontFace: true,
    enableXfa: false,
  });
  try {
    const document = await loading.promise;
    const { info } = await document.getMetadata();
    if (Reflect.get(info, "IsXFAPresent") === true) return { found: "xfa" };
    const objects = await document.getFieldObjects();
    const fields = Object.entries(objects ?? {}).flatMap(([name, places]): readonly FormValue[] => {
      const shown = places.filter((place): place is object => typeof place === "object" && place !== null);
      // A field that only holds others has a name, but no kind of its own.
      return shown.some((place) => (textAt(place, "type") ?? "") !== "") ? [{ name, value: shownIn(shown) }] : [];
    });
    return fields.length === 0 ? { found: "no form" } : { found: "fields", fields };
  } catch (error) {
    if (error instanceof Error && error.name === "PasswordException") return { found: "password" };
    return { found: unpacked.isUsedUp() ? "too slow" : "damage" };
  } finally {
    await loading.destroy();
  }
};

parentPort?.on("message", (bytes: Uint8Array) => {
  fieldsIn(bytes).then((read) => parentPort?.postMessage(unpacked.isUsedUp() ? { found: "too slow" } : read));
});
