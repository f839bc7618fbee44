import type { TopLevelSpec } from "vega-lite";
import type { FieldCompleteness } from "../../src/questions/audit-types.ts";
import { wholePercent } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG, MOST_MARKS } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { heavyIfPicked, type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";

const ROW = 26;
const PICKS: Pickable[] = [{ kind: "field", field: "field" }];
/** Share of a row's height that a bar takes where every record lacks the field. */
const FULL = 0.86;

type Span = { from: number; to: number; records: number; have: number };

/**
 * Where a field is missing, over time: a line for each field, and on it bars as high as the share of records that lack the field then.
 * No line: no record at that time. A field that every record has shows as a bare line.
 * @param fields - of one kind of record and fleet, in the order of their rows from the top
 */
export function fieldsMissing(fields: FieldCompleteness[], title: string): TopLevelSpec {
  const months = monthsTogether(fields);
  const rows = fields.map((field, index) => ({
    ...field,
    base: fields.length - index - 1,
    spans: spansOf(field, months),
  }));
  const lines = rows.flatMap(({ field, base, spans }) =>
    runsOf(spans).map(({ from, to }) => ({ from, to, base, field: inWords(field) })),
  );
  const bars = rows.flatMap(({ field, base, spans }) =>
    spans
      .filter(({ records, have }) => have < records)
      .map(({ from, to, records, have }) => ({
        from,
        to,
        base,
        top: base + (FULL * (records - have)) / records,
        field: inWords(field),
        missing: records - have,
        records,
      })),
  );
  const x: Position = {
    field: "from",
    type: "temporal",
    title: null,
    scale: { type: "utc" },
    axis: { orient: "top", grid: true, format: "%Y", tickCount: "year" },
  };
  const y = (orient: "left" | "right", words: string[]): Position => {
    const label = `${JSON.stringify(words.toReversed())}[datum.value]`;
    return {
      field: "base",
      type: "quantitative",
      title: null,
      scale: { domain: [-0.08, fields.length], nice: false, zero: false },
      axis: {
        orient,
        values: rows.map(({ base }) => base),
        labelExpr: label,
        labelBaseline: "bottom",
        labelLimit: LABEL_ROOM,
        labelOverlap: false,
        labelColor: orient === "left" ? COLOURS.ink : COLOURS.soft,
        ...(orient === "left" && { labelFontWeight: heavyIfPicked("field", label) }),
        domain: false,
        ticks: false,
        grid: false,
      },
    };
  };
  const named = y(
    "left",
    rows.map(({ field }) => inWords(field)),
  );
  const shares = y(
    "right",
    rows.map(({ share }) => wholePercent(share)),
  );
  const missing: Layer = {
    data: { values: bars },
    mark: { type: "rect", fill: COLOURS.accent, stroke: COLOURS.paper, strokeWidth: 0.5 },
    encoding: {
      x,
      x2: { field: "to" },
      y: { ...named, axis: null },
      y2: { field: "top" },
      ...unlessPicked(PICKS),
      tooltip: [
        { field: "field", title: "Field" },
        { field: "from", type: "temporal", title: "From", format: "%Y-%m" },
        { field: "missing", title: "Records without it" },
        { field: "records", title: "Records" },
      ],
    },
  };
  return {
    description: `${title}: for each of ${fields.length} fields the share of records that lack it, over time; ${rows.map(({ field, share }) => `${inWords(field)} is on ${wholePercent(share)}`).join(", ")}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: Math.max(2, fields.length) * ROW,
    resolve: { axis: { y: "independent" } },
    layer: [
      {
        data: { values: lines },
        mark: { type: "rule", stroke: COLOURS.faint, strokeWidth: 1 },
        encoding: { x, x2: { field: "to" }, y: named, ...unlessPicked(PICKS) },
      },
      {
        data: { values: rows.map(({ base, spans }) => ({ base, from: spans.at(-1)?.to ?? 0 })) },
        mark: { type: "point", opacity: 0 },
        encoding: { x, y: shares },
      },
      // A layer without marks has no extent, which spoils the axis of the others.
      ...(bars.length === 0 ? [] : [missing]),
    ],
  };
}

/** A field's name as a reader knows it. */
export function inWords(field: string): string {
  return WORDS[field] ?? field.replaceAll("_", " ");
}

const WORDS: Record<string, string> = {
  removed_on: "day taken out",
  received_on: "day in the shop",
  built_on: "day built",
  installed_on: "day put back",
  hours_removed: "meter at removal",
  hours_installed: "meter at return",
  reason: "reason for removal",
  failed_slot: "slot that failed",
  end_play: "end play as built",
  end_play_found: "end play as found",
  end_play_unshimmed: "end play without shims",
  condition_found: "condition found",
  parts_fitted: "parts fitted",
  batches_fitted: "batches fitted",
  listed_on: "day of the list",
  commissioned_on: "day commissioned",
  last_rebuilt_on: "day last rebuilt",
};

/** Months taken together, so that a long record has no more marks than a picture can show: 1, 3, 12 or 60. */
export function monthsTogether(fields: FieldCompleteness[]): number {
  const bars = (size: number) =>
    fields.reduce((sum, field) => sum + spansOf(field, size).filter(({ have, records }) => have < records).length, 0);
  return [1, 3, 12].find((size) => bars(size) + 3 * fields.length <= MOST_MARKS) ?? 60;
}

function spansOf({ months }: FieldCompleteness, size: number): Span[] {
  const spans = new Map<number, Span>();
  for (const { month, records, have } of months) {
    if (month === null) continue;
    const [year = 0, number = 1] = month.split("-").map(Number);
    const bin = Math.floor((12 * year + number - 1) / size) * size;
    const own = spans.get(bin) ?? { from: startOf(bin), to: startOf(bin + size), records: 0, have: 0 };
    spans.set(bin, { ...own, records: own.records + records, have: own.have + have });
  }
  return [...spans.values()].toSorted((a, b) => a.from - b.from);
}

function startOf(month: number): number {
  return Date.UTC(Math.floor(month / 12), month % 12, 1);
}

/** Spans that touch, as one. */
function runsOf(spans: Span[]): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  for (const { from, to } of spans) {
    const last = runs.at(-1);
    if (last !== undefined && last.to >= from) last.to = to;
    else runs.push({ from, to });
  }
  return runs;
}
