/**
 * The room that labels beside rows have, in CSS pixels: on a screen as narrow as a phone's two fifths of the chart, so that the marks keep
 * theirs. Longer ones end in dots; the table under a chart has them whole.
 */
export const LABEL_ROOM = { expr: "containerSize()[0] < 480 ? 0.4 * containerSize()[0] : 260" } as const;
