import type { BenchGroup } from "../../src/questions/bench-answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import type { Bin } from "../../src/questions/reading-bins.ts";
import { count } from "../../src/questions/wording.ts";
import { endPlayHistogram } from "../charts/end-play-histogram.ts";
import { endPlayFinding } from "../text/bench-findings.ts";
import { binWords } from "../text/bin-words.ts";
import { usualWords } from "../text/usual-words.ts";
import { Figure } from "./figure.tsx";
import type { FigureSize } from "./figures.ts";
import { RowsBehind } from "./rows-behind.tsx";

type Props = {
  fleet: Pick<FleetOverview, "title" | "endPlay" | "bench">;
  size: FigureSize;
  /** What is usual by the readings themselves is drawn beside the window. */
  usual?: boolean;
};

const HEIGHTS: Record<FigureSize, number> = { half: 150, wide: 230 };

/** As-built end play against its window. No figure is given as a setting but the workspace's own, with its source. */
export function EndPlayFigure({ fleet: { title, endPlay, bench }, size, usual }: Props) {
  const [group] = bench.groups;
  if (group === undefined || group.asBuilt.readings === 0) {
    return <p>No as-built end play is on record for this fleet.</p>;
  }
  const { histogram: bins, window: edges, chart } = group.asBuilt;
  const unit = group.asBuilt.unit ?? "";
  const { window } = endPlay;
  const limits = usual ? chart.limits : null;
  return (
    <Figure
      title="As-built end play"
      finding={endPlayFinding(group, edges !== null)}
      size={size}
      spec={endPlayHistogram({
        ...{ title, unit, bins },
        window: edges === null || window === null ? null : { ...edges, words: wordsOf(window, size) },
        usual: limits,
        height: HEIGHTS[size],
      })}
      table={{
        columns: [
          { title: "End play" },
          ...(edges === null ? ["Builds"] : ["Builds inside the window", "Outside it"]).map((name) => ({
            title: name,
            figures: true,
          })),
        ],
        rows: bins.map((bin) => binRow(bin, unit, edges !== null)),
        trace: <RowsBehind command={bench.rows} />,
      }}
    >
      {`${count(group.asBuilt.readings, "build")} with a reading, ${monthsOf(group)}. ${windowSentence(group, window)}`}
      {window !== null && <span class="on-screen"> A reading on an edge is inside.</span>}
      {limits !== null &&
        ` The pale strip, ${usualWords(limits, unit)}, says what is usual by the readings themselves, the window what is right.`}
    </Figure>
  );
}

type Window = FleetOverview["endPlay"]["window"];

/** There is room for the source in a wide picture. */
function wordsOf({ low, high, unit, source }: NonNullable<Window>, size: FigureSize): string[] {
  return [`${low} to ${high} ${unit}`, ...(size === "wide" ? [source] : [])];
}

function windowSentence({ asBuilt: { outside } }: BenchGroup, window: Window): string {
  if (window === null) return "The workspace names no window, so none is drawn.";
  return `${outside.count.toLocaleString("en-US")} ${outside.count === 1 ? "lies" : "lie"} outside the window of ${window.low} to ${window.high} ${window.unit}, which the workspace takes from: ${window.source}.`;
}

function monthsOf({ splits }: BenchGroup): string {
  const months = splits.flatMap(({ by, value, readings }) => (by === "month" && readings > 0 ? [value] : []));
  const [first] = months.toSorted();
  if (first === undefined) return "undated";
  const last = months.toSorted().at(-1);
  return first === last ? `built in ${first}` : `built from ${first} to ${last}`;
}

/** Named as its bar is: by its name the row is marked when the bar is picked. */
function binRow(bin: Bin, unit: string, judged: boolean) {
  const { inside, outside } = bin;
  return [binWords(bin, unit), ...(judged ? [inside, outside] : [inside + outside])];
}
