/** The page of one test: by set and kind, which stay when references do not yet. */
export const testAt = (visit: string, { at }: { readonly at: string }): string => {
  const [, set, kind] = /^\/sets\/(\d+)\/(\w+)$/.exec(at) ?? [];
  return `/visits/${visit}/tests/${Number(set ?? 0) + 1}/${kind ?? ""}`;
};
