import type { BenchGroup, ShimCheck, ShimFlag } from "../../src/questions/bench-answer.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { type Cell, DataTable, FoldedTable } from "./data-table.tsx";

/** Cards that stand open, on paper too. */
const OPEN = 4;

const COLUMNS = [
  { title: "Card" },
  { title: "Built" },
  ...["Shims leave", "Read", "Off by"].map((title) => ({ title, figures: true })),
];

const DO = { take_up: "take the end play up", add: "add to the end play" } as const;

/** Cards whose shims don't leave the end play that was read. */
export function BenchShims({ group }: { group: BenchGroup }) {
  const { shims } = group;
  const unit = group.asBuilt.unit ?? "";
  if (shims === null || shims.checked === 0) {
    return (
      <p>
        No card gives all that the check needs: the end play read, the shims, and the race's depth with the spigot's
        height or the end play without shims.
      </p>
    );
  }
  const { flagged, flaggedInAll } = shims;
  const [open, more] = [flagged.slice(0, OPEN), flagged.slice(OPEN)];
  return (
    <>
      <p>{sentence(shims, unit)}</p>
      {open.length > 0 && (
        <DataTable
          caption={`Shims that are off${flaggedInAll > open.length ? `, the latest ${open.length} of ${flaggedInAll.toLocaleString("en-US")}` : ""} (${unit})`}
          columns={COLUMNS}
          rows={open.map(rowOf)}
        />
      )}
      {more.length > 0 && (
        <FoldedTable
          table={{
            caption: `${more.length.toLocaleString("en-US")} before these (${unit})`,
            columns: COLUMNS,
            rows: more.map(rowOf),
          }}
        />
      )}
      <p class="note">{basis(shims, unit)}</p>
      {open[0] !== undefined && (
        <p class="trace">
          Where the figures of a card come from, as of the first: <code>{open[0].trace}</code>
        </p>
      )}
    </>
  );
}

function sentence({ checked, allowed, flaggedInAll }: ShimCheck, unit: string): string {
  return `${flaggedInAll.toLocaleString("en-US")} of ${count(checked, "card")} ${flaggedInAll === 1 ? "gives" : "give"} shims that don't leave the end play read: off by over ${inWords(allowed.withDepth)} ${unit}, more than the gauge explains (${inWords(allowed.withPlay)} ${unit} where end play was read without shims).`;
}

/** What the check rests on. */
function basis({ shims, lacking, gaugeSd, meanDifference }: ShimCheck, unit: string): string {
  const { estimate, low, high } = meanDifference;
  return [
    `Shims ${DO[shims]}, as the workspace says.`,
    gaugeSd === null
      ? "The bounds are three standard deviations at half a thou a reading, for the workspace does not say how far its gauge strays."
      : `The bounds are three standard deviations at the gauge's ${inWords(gaugeSd)} ${unit} a reading.`,
    ...(estimate === null || low === null || high === null
      ? []
      : [
          `In the mean readings lie ${inWords(Math.abs(estimate))} ${unit} ${estimate < 0 ? "under" : "over"} what shims leave (${inWords(low)} to ${inWords(high)}).`,
        ]),
    ...(lacking === 0 ? [] : [`${count(lacking, "card lacks", "cards lack")} a measure for the check.`]),
  ].join(" ");
}

function rowOf({ card, on, expected, reading, difference }: ShimFlag): Cell[] {
  return [
    card,
    on ?? "no date",
    inWords(expected),
    inWords(reading),
    `${difference > 0 ? "+" : ""}${inWords(difference)}`,
  ];
}
