/** Opens the office when the server starts, so that a database that cannot be opened is told at once, and not by the first page. */
export const register = async (): Promise<void> => {
  if (process.env["NEXT_RUNTIME"] !== "nodejs") return;
  const { startOffice } = await import("./app/_server/office.ts");
  await startOffice();
};
