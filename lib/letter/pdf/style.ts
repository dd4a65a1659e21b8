import { createRequire } from "node:module";
import { Font, StyleSheet } from "@react-pdf/renderer";

export const FAMILY = "Source Sans 3";

const find = createRequire(import.meta.url).resolve;
const face = (path: string): string => find(`@expo-google-fonts/source-sans-3/${path}`);

Font.register({
  family: FAMILY,
  fonts: [
    { src: face("400Regular/SourceSans3_400Regular.ttf"), fontWeight: 400 },
    { src: face("600SemiBold/SourceSans3_600SemiBold.ttf"), fontWeight: 600 },
  ],
});

const LONGEST_WORD = 28;

/** No hyphenation; only a word too long for any column is cut, so that nothing runs off the paper. */
Font.registerHyphenationCallback((word) =>
  word.length <= LONGEST_WORD ? [word] : (word.match(new RegExp(`.{1,${LONGEST_WORD}}`, "gu")) ?? [word]),
);

export const INK = "#1d2126";
export const QUIET = "#565d66";
export const RULE = "#b9bec4";
/** What needs the reader's act. */
export const ACT = "#0b4f5c";
/** Danger only. */
export const DANGER = "#8a1c1c";

export const styles = StyleSheet.create({
  page: { fontFamily: FAMILY, fontSize: 9.5, lineHeight: 1.35, color: INK, paddingTop: 54, paddingBottom: 54, paddingHorizontal: 54 },
  header: {
    position: "absolute",
    top: 26,
    left: 54,
    right: 54,
    flexDirection: "row",
    justifyContent: "space-between",
    fontSize: 8,
    color: QUIET,
  },
  footer: {
    position: "absolute",
    top: 800,
    left: 54,
    right: 54,
    flexDirection: "row",
    justifyContent: "space-between",
    fontSize: 7.5,
    color: QUIET,
  },
  office: { fontSize: 13, fontWeight: 600, paddingBottom: 3 },
  small: { fontSize: 8.5, color: QUIET },
  subject: { fontSize: 12, fontWeight: 600, paddingTop: 12, paddingBottom: 2 },
  heading: { fontSize: 12, fontWeight: 600, paddingTop: 14, paddingBottom: 3, borderBottomWidth: 0.75, borderBottomColor: INK },
  subheading: { fontSize: 10, fontWeight: 600, paddingTop: 8 },
  paragraph: { paddingTop: 4 },
  row: { flexDirection: "row", borderBottomWidth: 0.5, borderBottomColor: RULE, paddingVertical: 3 },
  headRow: { flexDirection: "row", borderBottomWidth: 0.75, borderBottomColor: INK, paddingTop: 6, paddingBottom: 2 },
  plainRow: { flexDirection: "row", borderBottomWidth: 0.5, borderBottomColor: RULE, paddingVertical: 1.2, fontSize: 9 },
  cell: { paddingRight: 8 },
  strong: { fontWeight: 600 },
  protection: { paddingTop: 9 },
  strip: { flexDirection: "row", paddingTop: 3, paddingBottom: 2 },
  line: { flexDirection: "row", paddingTop: 1.5 },
  label: { width: 82, fontSize: 8.5, color: QUIET },
});
