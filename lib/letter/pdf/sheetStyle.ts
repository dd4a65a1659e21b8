import { StyleSheet } from "@react-pdf/renderer";
import { BODY, BOX, LINE_HEIGHT, PADDING, WRITE_IN } from "../sheets/measures.ts";
import { INK } from "./style.ts";

/** The layout hands a height of line down in points, so that it goes with every size. */
const body = { fontSize: BODY, lineHeight: LINE_HEIGHT } as const;

/** Left and right of the middle of a page's own head. */
const BESIDE = 160;
/** What stands there: the room on the narrower paper, where its last line ends, and from one line to the next. */
export const CONTINUED = { width: 595 - 2 * BESIDE, foot: 34, line: BODY * LINE_HEIGHT } as const;

/** All in one ink. */
export const sheet = StyleSheet.create({
  heading: {
    flexDirection: "row",
    justifyContent: "space-between",
    alignItems: "flex-end",
    paddingTop: 2,
    paddingBottom: 2,
    borderBottomWidth: 2,
    borderBottomColor: INK,
  },
  /** At the head of the second page of a test, in the middle of the page's own head. */
  continued: { position: "absolute", left: BESIDE, right: BESIDE, alignItems: "center", ...body, fontWeight: 600 },
  oneLine: { maxLines: 1, textOverflow: "ellipsis" },
  headingText: { maxWidth: "76%", fontSize: 15, lineHeight: LINE_HEIGHT, fontWeight: 600 },
  headingNote: { ...body, fontWeight: 600, maxWidth: "23%" },
  text: { ...body, paddingTop: 2.5, paddingBottom: 1.2 },
  strong: { fontWeight: 600 },
  headRow: { flexDirection: "row", alignItems: "flex-end", ...body, fontWeight: 600, borderBottomWidth: 1, paddingTop: 4 },
  row: { ...body, flexDirection: "row", alignItems: "center", borderBottomWidth: 0.5, paddingVertical: PADDING },
  cell: { paddingRight: 6 },
  ticked: { flexDirection: "row", alignItems: "center" },
  box: { width: BOX, height: BOX, borderWidth: 1.2, borderColor: INK, marginRight: 5 },
  blank: { flexDirection: "row", alignItems: "flex-end", height: WRITE_IN },
  line: { flex: 1, height: WRITE_IN, borderWidth: 0.8, borderColor: INK },
  unit: { paddingLeft: 3, paddingBottom: 4 },
  strip: { flexDirection: "row", justifyContent: "space-between", alignItems: "flex-start", paddingTop: 3 },
  beside: { ...body, flex: 1, paddingRight: 10 },
  drawings: { paddingTop: 8 },
});
