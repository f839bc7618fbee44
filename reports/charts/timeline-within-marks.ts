import type { TimelineRow } from "../../src/questions/overview-types.ts";
import { MOST_MARKS } from "./chart-theme.ts";
import { KEY_MARKS } from "./unit-timeline.ts";

/** Rows of a timeline from the first on, as many as a chart may have marks for; the first in any case, so that none is empty. */
export function timelineWithinMarks(rows: TimelineRow[][]): TimelineRow[][] {
  let marks = KEY_MARKS;
  return rows.filter((own, index) => {
    marks += 2 * own.length; // a bar and a mark each
    return own.length > 0 && (marks <= MOST_MARKS || index === 0);
  });
}
