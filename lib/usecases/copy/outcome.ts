import { failure, type Result } from "../../kernel/result.ts";
import { CopyStopped } from "../../store/copy/end.ts";

/** Why nothing was copied. `bad` where something that was given is not what is wanted, else the work itself failed. */
export interface CopyFault {
  readonly bad: boolean;
  readonly says: string;
}

export const bad = (at: string, given: string, wanted: string): Result<never, CopyFault> =>
  failure({ bad: true, says: `${at}: given ${given}; wanted ${wanted}` });

export const failed = (says: string): Result<never, CopyFault> => failure({ bad: false, says });

const WORDS: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full",
  EDQUOT: "the disk is full",
  EFBIG: "the file would be larger than it may be",
  SQLITE_FULL: "the disk is full",
  EACCES: "the place may not be written",
  EROFS: "the place may not be written",
  ECONNREFUSED: "the server does not answer",
  ENOTFOUND: "there is no server of this name",
};

const codeOf = (error: unknown): string => (error instanceof Error && "code" in error ? String(error.code) : "");

/** What went wrong, in words; an address with a password is never among them. */
export const wordsOf = (error: unknown): string => {
  if (error instanceof CopyStopped) return error.message;
  const message = error instanceof Error && error.message !== "" ? error.message : "unknown reason";
  const words = WORDS[codeOf(error)];
  return words === undefined ? message : `${words} (${message})`;
};

/** Does the work; what it throws is a failure told in words. */
export const stopping = async <Value>(what: string, work: () => Promise<Result<Value, CopyFault>>): Promise<Result<Value, CopyFault>> => {
  try {
    return await work();
  } catch (error) {
    return failed(`${what}: ${wordsOf(error)}`);
  }
};

/** An address as it may be shown: without a password. */
export const shown = (address: string): string => address.replace(/^(postgres(?:ql)?:\/\/[^:/@]*):[^@]*@/, "$1:…@").replace(/\?.*$/, "");
