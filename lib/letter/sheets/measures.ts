/** Points in a millimetre. */
const MM = 72 / 25.4;

/** What is carried aboard, in points: at least 11 pt, boxes of 6 mm, lines to write on 9 mm high. */
export const BODY = 11;
export const BOX = 6.1 * MM;
export const WRITE_IN = 9.1 * MM;
export const LINE_HEIGHT = 1.15;
export const PADDING = 1;
