import { COLOURS } from "../theme/colours.ts";

/** Lines of groups in one picture, each by its dashes and weight; names stand at the ends. More can't be told apart. */
export const GROUP_LINES = [
  { color: COLOURS.ink, dash: [1, 0], width: 2.2 },
  { color: COLOURS.accent, dash: [7, 3], width: 2 },
  { color: COLOURS.soft, dash: [2, 2], width: 2 },
  { color: COLOURS.ink, dash: [9, 3, 2, 3], width: 1.5 },
  { color: COLOURS.accent, dash: [1, 3], width: 2 },
  { color: COLOURS.faint, dash: [1, 0], width: 2 },
] as const;
