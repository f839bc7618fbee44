import type { Estimate } from "../../src/questions/estimate.ts";
import type { Pooled } from "../../src/questions/life-answer.ts";
import type { FleetsCompared } from "../../src/questions/overview-types.ts";
import { unitOf, wholePercent, withLimits } from "../../src/questions/wording.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { l10ByFleet, MOST_FLEET_ROWS, type SlotL10 } from "../charts/l10-by-fleet.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import { groupTitle } from "../text/group-title.ts";
import { slotsFinding } from "../text/life-findings.ts";
import { percentOf } from "../text/percent-of.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure, type FigureTable } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

type L10Row = {
  slot: string;
  fleet: string;
  failed: number;
  lives: number;
  l10: Estimate;
  median: Estimate;
  pooled: Pooled | null;
};

type L10Props = { fleets: FleetInShort[]; compared: FleetsCompared | undefined; level: number; asOf: string };

/** L10 of every fleet and slot on one axis, slots in their order and the fleets of each together. */
export function L10Figure({ fleets, compared, level, asOf }: L10Props) {
  const slots = slotsOf(fleets, compared);
  const rows = [...slots.values()].flat();
  if (rows.length === 0) return null;
  const clock = fleets[0]?.life.clock ?? null;
  const drawn = drawnOf(slots);
  const table = tableOf(rows, unitOf(clock).trim(), asOf);
  if (drawn.length === 0) return <DataTable caption="L10 by slot and fleet" {...table} />;
  const known = rows.filter(isKnown).length;
  const shown = drawn.reduce((sum, { fleets }) => sum + fleets.length, 0);
  const borrowed = drawn.some(({ fleets }) => fleets.some(({ pooled }) => pooled !== null));
  return (
    <Figure
      title="L10 by slot and fleet"
      finding={slotsFinding(
        rows.map(({ slot, fleet, l10 }) => ({ title: `${slot} of ${fleet}`, l10 })),
        unitOf(clock),
      )}
      size="wide"
      spec={l10ByFleet(drawn, { level, timeTitle: clockTitle(clock) })}
      table={table}
    >
      Dots are L10, the age by which one in ten has failed; bars their {percentOf(level)} intervals, on a logarithmic
      scale.{" "}
      {borrowed && "Hollow marks are the same when a fleet borrows from the others, with how far that moved it. "}
      {shown < known && `Of ${known} rows the ${shown} with most failures in their slots are drawn. `}
      Fleets differ in duty: a difference between two is no verdict on either.
    </Figure>
  );
}

function slotsOf(fleets: FleetInShort[], compared: FleetsCompared | undefined): Map<string, L10Row[]> {
  const order = [...new Set(fleets.flatMap(({ slots }) => Object.keys(slots)))];
  const borrowed = new Map((compared?.groups ?? []).map(({ by, pooled }) => [keyOf(by["fleet"], by["slot"]), pooled]));
  const rows = fleets.flatMap(({ name, title, life, slots }) =>
    life.groups.map(({ by, basis: { failed, lives }, l10, median, pooled }) => ({
      place: order.indexOf(by["slot"] ?? ""),
      row: {
        slot: groupTitle(by, slots),
        fleet: title,
        failed,
        lives,
        l10,
        median,
        pooled: borrowed.get(keyOf(name, by["slot"])) ?? pooled,
      },
    })),
  );
  const bySlot = new Map<string, L10Row[]>();
  for (const { row } of rows.toSorted((a, b) => a.place - b.place)) {
    const own = bySlot.get(row.slot);
    if (own === undefined) bySlot.set(row.slot, [row]);
    else own.push(row);
  }
  return bySlot;
}

function keyOf(fleet: string | undefined, slot: string | undefined): string {
  return JSON.stringify([fleet, slot]);
}

function isKnown({ l10, pooled }: L10Row): boolean {
  return l10.estimate !== null || (pooled !== null && pooled.l10.estimate !== null);
}

/** As many rows of each slot as the page has room for: those with most failures, in their order. */
function drawnOf(slots: Map<string, L10Row[]>): SlotL10[] {
  const known = [...slots].map(([slot, rows]) => ({ slot, rows: rows.filter(isKnown) }));
  const each = Math.max(1, Math.floor(MOST_FLEET_ROWS / Math.max(1, known.length)));
  return known
    .slice(0, MOST_FLEET_ROWS)
    .map(({ slot, rows }) => {
      const most = new Set(rows.toSorted((a, b) => b.failed - a.failed).slice(0, each));
      return { slot, fleets: rows.filter((row) => most.has(row)).map(drawnRow) };
    })
    .filter(({ fleets }) => fleets.length > 0);
}

function drawnRow({ fleet, l10, pooled }: L10Row) {
  return {
    fleet,
    l10,
    pooled: pooled === null || pooled.l10.estimate === null ? null : { l10: pooled.l10, moved: movedWords(pooled) },
  };
}

/** "+8 %": by how much borrowing changed the L10. */
function movedWords({ moved }: Pooled): string | null {
  if (moved === null) return null;
  const change = Math.expm1(moved);
  return Math.abs(change) < 0.005
    ? "unmoved"
    : `${change < 0 ? "-" : "+"}${wholePercent(Math.min(Math.abs(change), 99))}`;
}

function tableOf(rows: L10Row[], unit: string, asOf: string): FigureTable {
  const inUnit = unit === "" ? "" : ` (${unit})`;
  const borrowing = rows.some(({ pooled }) => pooled !== null);
  return {
    columns: [
      { title: "Slot" },
      { title: "Fleet" },
      ...[
        "Failed",
        `L10${inUnit}`,
        ...(borrowing ? [`L10 borrowing${inUnit}`, "Moved by", "Own weight"] : [`Median${inUnit}`]),
      ].map((title) => ({ title, figures: true })),
    ],
    rows: rows.map(({ slot, fleet, failed, lives, l10, median, pooled }): Cell[] => [
      slot,
      fleet,
      `${failed.toLocaleString("en-US")} of ${lives.toLocaleString("en-US")}`,
      withLimits(l10, ""),
      ...(borrowing ? pooledCells(pooled) : [medianCell(median, l10)]),
    ]),
    trace: <RowsBehind command={`framelife query --as-of ${asOf} "select * from life"`} />,
  };
}

/** A reason stands once in its row. */
function medianCell(median: Estimate, l10: Estimate): Cell {
  return median.estimate === null && median.reason === l10.reason ? null : withLimits(median, "");
}

function pooledCells(pooled: Pooled | null): Cell[] {
  if (pooled === null) return [null, null, null];
  return [withLimits(pooled.l10, ""), movedWords(pooled), wholePercent(pooled.ownWeight)];
}
