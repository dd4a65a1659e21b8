interface Days {
  readonly preparedOn: string;
  readonly visit: { readonly window: { readonly from: string; readonly to: string } };
  readonly policy?: { readonly holidays?: readonly string[] };
}

const DAY = 24 * 60 * 60_000;

const moved = (day: string, by: number): string => new Date(Date.parse(day) + by).toISOString().slice(0, 10);

/** A visit file with all its days moved by as many, so that it is planned from today: a letter can be sent of it, and its links open. */
export const aheadOf = (text: string, today: string): string => {
  const file = JSON.parse(text) as Days;
  const by = Math.round((Date.parse(today) - Date.parse(file.preparedOn)) / DAY) * DAY;
  const { window } = file.visit;
  return JSON.stringify({
    ...file,
    preparedOn: today,
    visit: { ...file.visit, window: { from: moved(window.from, by), to: moved(window.to, by) } },
    ...(file.policy?.holidays === undefined
      ? {}
      : { policy: { ...file.policy, holidays: file.policy.holidays.map((day) => moved(day, by)) } }),
  });
};
