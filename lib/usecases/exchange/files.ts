export const WHAT_FILES: readonly { readonly value: string; readonly label: string }[] = [
  { value: "test procedure", label: "Test procedure" },
];
