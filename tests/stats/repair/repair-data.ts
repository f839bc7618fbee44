import type { RepairHistories } from "../../../src/stats/repair/repair-histories.ts";
import type { PublishedCase } from "../../published-case.ts";

/** A unit by its repairs, the ages of those before a failure marked by a minus, and from when to when it was watched. */
export type UnitOf = { repairs: number[]; end: number; entry?: number; fromNew?: boolean };

/** Histories of units written down one by one. */
export function historiesOf(units: UnitOf[]): RepairHistories {
  const rows = units.flatMap(({ repairs }, unit) => repairs.map((age) => ({ unit, age })));
  return {
    unit: Int32Array.from(rows, ({ unit }) => unit),
    time: Float64Array.from(rows, ({ age }) => Math.abs(age)),
    failed: Uint8Array.from(rows, ({ age }) => (age < 0 ? 0 : 1)),
    entry: Float64Array.from(units, ({ entry = 0 }) => entry),
    end: Float64Array.from(units, ({ end }) => end),
    fromNew: Uint8Array.from(units, ({ fromNew = true }) => (fromNew ? 1 : 0)),
  };
}

/** Units of a published case, whose rows are gaps. */
export function publishedUnits(published: PublishedCase): UnitOf[] {
  const starts = published.numbers("age_start");
  const gaps = published.numbers("gap");
  const failed = published.flags("failed");
  const units = new Map<string, UnitOf>();
  for (const [row, name] of published.texts("unit").entries()) {
    const unit = units.get(name) ?? { repairs: [], end: 0 };
    units.set(name, unit);
    unit.end = starts[row]! + gaps[row]!;
    if (failed[row] === 1) unit.repairs.push(unit.end);
  }
  return [...units.values()];
}
