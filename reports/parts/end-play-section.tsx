import type { EndPlay } from "../../src/questions/overview-types.ts";
import { count } from "../../src/questions/wording.ts";
import { inUnit } from "../../src/workspace/lengths.ts";
import { endPlayBins } from "../charts/end-play-bins.ts";
import { type Bin, endPlayHistogram } from "../charts/end-play-histogram.ts";
import { Figure } from "./figure.tsx";

/** As-built end play against its window. No figure is given as a setting but the workspace's own, with its source. */
export function EndPlaySection({ endPlay, title, fleet }: { endPlay: EndPlay; title: string; fleet: string }) {
  const { values, window, unit } = endPlay;
  if (values.length === 0) return <p>No as-built end play is on record for this fleet.</p>;
  const bins = endPlayBins(endPlay);
  return (
    <Figure
      title="As-built end play"
      size="wide"
      spec={endPlayHistogram({ title, unit, bins, window: window && drawn(window, unit) })}
      table={{
        columns: [
          { title: `End play (${unit})` },
          ...(window === null ? ["Builds"] : ["Builds inside the window", "Outside it"]).map((name) => ({
            title: name,
            figures: true,
          })),
        ],
        rows: bins.map((bin) => binRow(bin, window !== null)),
        trace: (
          <>
            The cards:{" "}
            <code>
              framelife query "select fleet, card, unit, end_play_mm from records.rebuild where fleet = '{fleet}'"
            </code>
            ; then <code>framelife trace {fleet}/CARD</code>.
          </>
        ),
      }}
    >
      {inSentences(endPlay, bins)}
    </Figure>
  );
}

type Window = NonNullable<EndPlay["window"]>;

function drawn({ low, high, unit: stated, source }: Window, unit: EndPlay["unit"]) {
  return {
    low: inUnit(low, stated, unit),
    high: inUnit(high, stated, unit),
    words: `${low} to ${high} ${stated}`,
    source,
  };
}

function inSentences({ values, window }: EndPlay, bins: Bin[]): string {
  const readings = `${count(values.length, "build")} with a reading, ${dates(values)}.`;
  if (window === null) return `${readings} The workspace names no window, so none is drawn.`;
  const outside = bins.reduce((sum, bin) => sum + bin.outside, 0);
  return `${readings} ${outside.toLocaleString("en-US")} lie outside the window of ${window.low} to ${window.high} ${window.unit}, which the workspace takes from: ${window.source}. A reading on an edge is inside.`;
}

function dates(values: EndPlay["values"]): string {
  const days = values.flatMap(({ builtOn }) => (builtOn === null ? [] : [builtOn])).toSorted();
  return days.length === 0 ? "undated" : `built from ${days[0]} to ${days.at(-1)}`;
}

function binRow({ from, to, inside, outside }: Bin, judged: boolean) {
  return [`${edge(from)} to ${edge(to)}`, ...(judged ? [inside, outside] : [inside + outside])];
}

/** An edge between bars in full: rounding would move it. */
function edge(length: number): string {
  return Number(length.toPrecision(6)).toLocaleString("en-US", { maximumSignificantDigits: 6 });
}
