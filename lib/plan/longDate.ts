const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** "2026-02" or "2026-02-12" as "February 2026". */
export const longMonth = (iso: string): string => {
  const [year = "", month = ""] = iso.split("-");
  return `${MONTHS[Number(month) - 1] ?? month} ${year}`;
};

/** "2026-02-12" as "12 February 2026". */
export const longDate = (iso: string): string => {
  const [year = "", month = "", day = ""] = iso.split("-");
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? month} ${year}`;
};
