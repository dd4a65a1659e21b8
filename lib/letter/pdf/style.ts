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

/** Lets both faces meet signs as themselves, before the layout can meet them as part of others. */
export const meet = async (signs: string): Promise<void> => {
  for (const fontWeight of [400, 600]) {
    const face = { fontFamily: FAMILY, fontWeight };
    await Font.load(face);
    const loaded: object = Font.getFont(face).data ?? {};
    // The renderer's types leave the method out.
    if ("glyphsForString" in loaded && typeof loaded.glyphsForString === "function") loaded.glyphsForString(signs);
  }
};

/** Cuts a word that is longer than `longest` into pieces; shorter words stay whole. */
const cutting =
  (longest: number, piece: number) =>
  (word: string): string[] =>
    [...word].length <= longest ? [word] : (word.match(new RegExp(`.{1,${piece}}`, "gu")) ?? [word]);

/** No hyphenation: only a word too long for a line is cut, so that nothing runs off the paper. */
Font.registerHyphenationCallback(cutting(24, 8));

/** For narrow columns. */
export const cutForNarrow = cutting(14, 6);

/** Keeps a number on one line with its unit. */
export const glued = (text: string): string =>
  text.replace(/(\d) (?=(?:%|°[CF]|bar|psi|rpm|Hz|kW|mm|mA|mV|V|Ω|h|hPa|K)(?![A-Za-z]))/g, "$1\u00a0");

export const INK = "#1d2126";
export const QUIET = "#565d66";
export const RULE = "#b9bec4";
/** What needs the reader's act. */
export const ACT = "#0b4f5c";
/** Danger only. */
export const DANGER = "#8a1c1c";

const SIDE = 45;
/** Where the right column of a protection begins. */
const BESIDE = 158;

export const styles = StyleSheet.create({
  page: { fontFamily: FAMILY, fontSize: 9, lineHeight: 1.2, color: INK, paddingTop: 42, paddingBottom: 44, paddingHorizontal: SIDE },
  header: {
    position: "absolute",
    top: 24,
    left: SIDE,
    right: SIDE,
    flexDirection: "row",
    justifyContent: "space-between",
    fontSize: 8,
    color: QUIET,
  },
  footer: {
    position: "absolute",
    left: SIDE,
    right: SIDE,
    flexDirection: "row",
    justifyContent: "space-between",
    fontSize: 7.5,
    color: QUIET,
  },
  office: { fontSize: 13, fontWeight: 600, paddingBottom: 3 },
  inside: { color: INK, textDecoration: "none" },
  plainLink: { color: QUIET, textDecoration: "none" },
  small: { fontSize: 8.5, color: QUIET },
  proves: { fontSize: 8.5 },
  fine: { fontSize: 8, color: QUIET },
  subject: { fontSize: 12, fontWeight: 600, paddingTop: 12 },
  heading: {
    fontSize: 12,
    fontWeight: 600,
    paddingTop: 7,
    paddingBottom: 3,
    marginBottom: 1,
    borderBottomWidth: 0.75,
    borderBottomColor: INK,
  },
  under: { paddingTop: 5 },
  subheading: { fontSize: 10, fontWeight: 600, color: INK },
  paragraph: { paddingTop: 4 },
  asks: { paddingTop: 3 },
  never: { flexDirection: "row", flexWrap: "wrap", paddingTop: 4, color: DANGER },
  act: { paddingRight: 12 },
  row: { flexDirection: "row", borderBottomWidth: 0.5, borderBottomColor: RULE, paddingVertical: 2 },
  compactRow: { flexDirection: "row", borderBottomWidth: 0.5, borderBottomColor: RULE, paddingVertical: 1, fontSize: 8.5 },
  headRow: { flexDirection: "row", borderBottomWidth: 0.75, borderBottomColor: INK, paddingTop: 3, paddingBottom: 0.5, fontSize: 8.5 },
  changeBar: { position: "absolute", left: -10, top: 2, bottom: 2, width: 2.5, backgroundColor: INK },
  cell: { paddingRight: 8 },
  strong: { fontWeight: 600 },
  facts: { flexDirection: "row", paddingTop: 3, borderBottomWidth: 0.5, borderBottomColor: RULE, paddingBottom: 2, fontSize: 8.5 },
  factRef: { fontSize: 7, color: QUIET },
  factsOf: { width: 72, fontWeight: 600, paddingRight: 8 },
  protection: { flexDirection: "row", paddingVertical: 2.5, borderBottomWidth: 0.5, borderBottomColor: RULE, fontSize: 9 },
  which: { width: BESIDE, paddingRight: 12 },
  drawings: { flexDirection: "row", paddingTop: 6 },
  drawingsBeneath: { paddingTop: 6 },
  signature: { width: 280 },
  signed: { marginTop: 14, borderTopWidth: 0.5, borderTopColor: INK, paddingTop: 2 },
  strip: { flexDirection: "row", paddingTop: 2, paddingBottom: 1 },
  segment: { fontSize: 7, color: INK },
  /** A line as high as its words, where they are larger than the letter's. */
  enlarged: { lineHeight: 1.15 },
  line: { paddingTop: 1 },
  label: { color: ACT },
  formRow: { flexDirection: "row", borderBottomWidth: 0.5, borderBottomColor: RULE, paddingTop: 2.5, paddingBottom: 2 },
  compactFormRow: { flexDirection: "row", borderBottomWidth: 0.5, borderBottomColor: RULE, paddingTop: 1, fontSize: 8.5, lineHeight: 1.1 },
  compactFormRef: { width: "9%", fontWeight: 600 },
  compactFieldLine: { flexDirection: "row", paddingBottom: 1 },
  formHead: {
    flexDirection: "row",
    alignItems: "flex-end",
    borderBottomWidth: 0.75,
    borderBottomColor: INK,
    paddingTop: 5,
    paddingBottom: 1,
    fontSize: 8,
  },
  formRef: { width: "6.5%", fontWeight: 600 },
  formText: { flex: 1, paddingRight: 8 },
  formNote: { fontSize: 8, color: QUIET },
  fieldLine: { flexDirection: "row", paddingBottom: 2.5 },
  fieldPlace: { flexDirection: "row", paddingRight: 5, alignItems: "center" },
  fieldBox: { flex: 1, height: 17, padding: 0.75, borderWidth: 0.75, borderColor: QUIET },
  tallBox: { flex: 1, height: 44, padding: 0.75, borderWidth: 0.75, borderColor: QUIET },
  field: { width: "100%", height: "100%" },
  fieldUnit: { fontSize: 8.5, paddingLeft: 3, minWidth: 20 },
  kept: { position: "absolute", width: 1, height: 1, right: 0 },
});
