import type { TopLevelSpec } from "vega-lite";
import { COLOURS } from "../theme/colours.ts";

const FONT = "system-ui, 'Liberation Sans', sans-serif";

/** What all charts share. Marks carry no roles of their own: the picture has one label, and a table stands under it. */
export const CHART_CONFIG: NonNullable<TopLevelSpec["config"]> = {
  aria: false,
  background: "transparent",
  font: FONT,
  padding: 2,
  mark: { color: COLOURS.ink },
  view: { stroke: COLOURS.faint, strokeWidth: 1 },
  axis: {
    labelColor: COLOURS.soft,
    labelFontSize: 11,
    titleColor: COLOURS.ink,
    titleFontSize: 11.5,
    titleFontWeight: "normal",
    domainColor: COLOURS.faint,
    tickColor: COLOURS.faint,
    gridColor: COLOURS.hair,
    gridWidth: 0.75,
    labelOverlap: "greedy",
    labelSeparation: 2,
    labelFlush: false,
  },
  text: { fontSize: 11, fill: COLOURS.ink },
};

/** Titles of the axes of small charts side by side. */
export const SMALL_TITLE = { titleFontSize: 10.5, titleColor: COLOURS.soft, titlePadding: 3 } as const;

/** Marks that one chart may have; beyond it a picture takes seconds and shows no more (Vega spends about 30 us a mark). */
export const MOST_MARKS = 2000;
