import type { BenchAnswer, BenchGroup, BenchPoint } from "../../src/questions/bench-answer.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { endPlayInOrder } from "../charts/end-play-in-order.ts";
import { orderedFinding } from "../text/bench-findings.ts";
import { builtSpans } from "../text/built-spans.ts";
import { capitalised } from "../text/capitalised.ts";
import { ruleWords } from "../text/rule-words.ts";
import type { Cell } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { nameCell } from "./name-cell.ts";
import { usePageOf } from "./places.ts";
import { RowsBehind } from "./rows-behind.tsx";

/** Readings one by one in the order of building, with what each differs by from the one before. */
export function BenchOrder({ group, bench, title }: { group: BenchGroup; bench: BenchAnswer; title: string }) {
  const pageOf = usePageOf("unit");
  const { chart, window, histogram } = group.asBuilt;
  const unit = group.asBuilt.unit ?? "";
  if (chart.points.length === 0) return <p>No build has a reading to show in order.</p>;
  return (
    <Figure
      title="End play reading by reading"
      finding={orderedFinding(chart)}
      size="wide"
      spec={endPlayInOrder({ title, unit, window, chart, bins: histogram, of: builtSpans(group.splits).of })}
      table={{
        columns: [
          { title: "Card" },
          { title: "Frame" },
          { title: "Built" },
          { title: `End play (${unit})`, figures: true },
          { title: `Differs by (${unit})`, figures: true },
          { title: "It lies" },
          { title: "Rules broken" },
        ],
        rows: chart.points
          .toReversed()
          .map((point): Cell[] => [
            point.card,
            nameCell(point.unit, pageOf),
            point.on ?? "no date",
            inWords(point.value),
            point.range === null ? null : inWords(point.range),
            window === null ? "no window" : place(point),
            point.breaks.length === 0 ? null : capitalised(point.breaks.map(ruleWords).join("; ")),
          ]),
        trace: <RowsBehind command={bench.rows} />,
      }}
    >
      {readings(chart)} {usual(chart)}
      {window !== null && " Broken lines: the window; triangles lie outside it."}
      {chart.limits !== null && rules(chart)}
    </Figure>
  );
}

type Chart = BenchGroup["asBuilt"]["chart"];

function readings({ points, readings }: Chart): string {
  return points.length < readings
    ? `The latest ${points.length} of ${count(readings, "reading")}, in the order of building.`
    : `${count(readings, "reading")}, in the order of building.`;
}

function usual({ limits, reason }: Chart): string {
  if (limits === null) return `No usual strip is drawn: ${reason}.`;
  return "Pale strip: usual by the readings themselves (three standard deviations about their middle).";
}

/** What breaks a rule, against what chance gives. */
function rules({ breaks, breaksByChance, byRule }: Chart) {
  const chance = `chance gives about ${inWords(Math.max(1, Math.round(breaksByChance)))}`;
  const named = byRule
    .map(({ rule, readings }) => `${ruleWords(rule)} (${readings.toLocaleString("en-US")})`)
    .join("; ");
  const said =
    breaks === 0
      ? `No reading breaks a run rule (${chance})`
      : `${count(breaks, "reading breaks", "readings break")} a run rule (${chance})`;
  return (
    <>
      {` ${said}; a diamond marks that, or below an unusual difference: ask what was different that day.`}
      {named !== "" && <span class="on-screen">{` Rules broken: ${named}.`}</span>}
    </>
  );
}

function place({ outside }: BenchPoint): string {
  return outside === null ? "Inside the window" : `${capitalised(outside)} the window`;
}
