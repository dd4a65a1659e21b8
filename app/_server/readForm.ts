import { failure, type Result, success } from "../../lib/kernel/result.ts";

/** TEMPORARY */
export const readBody = async (request: Request, most: number): Promise<Result<FormData>> => {
  if (Number(request.headers.get("content-length") ?? 0) > most) return failure(`given more than ${most} bytes`);
  const form = await request.formData().catch(() => null);
  return form === null ? failure("this is no form") : success(form);
};
