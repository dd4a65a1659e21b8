import { createCipheriv, createDecipheriv, createHash, hkdfSync, randomBytes } from "node:crypto";

const CIPHER = "aes-256-gcm";
const NONCE = 12;
const TAG = 16;

/** Words may be longer than what a key can be made from, so it is made from their digest. */
const keyOf = (secret: string, by: string): Buffer =>
  Buffer.from(hkdfSync("sha256", secret, "", createHash("sha256").update(by).digest(), 32));

/** A text that can be read again only with the office's secret and the words that it is hidden by, which need not be kept. */
export const hidden = (text: string, secret: string, by: string): string => {
  const nonce = randomBytes(NONCE);
  const cipher = createCipheriv(CIPHER, keyOf(secret, by), nonce);
  return Buffer.concat([nonce, cipher.update(text, "utf8"), cipher.final(), cipher.getAuthTag()]).toString("base64url");
};

/** The text again; null where secret or words are others, or where it was changed. */
export const shown = (given: string, secret: string, by: string): string | null => {
  const bytes = Buffer.from(given, "base64url");
  if (bytes.length < NONCE + TAG) return null;
  const decipher = createDecipheriv(CIPHER, keyOf(secret, by), bytes.subarray(0, NONCE));
  decipher.setAuthTag(bytes.subarray(-TAG));
  try {
    return Buffer.concat([decipher.update(bytes.subarray(NONCE, -TAG)), decipher.final()]).toString("utf8");
  } catch {
    return null;
  }
};
