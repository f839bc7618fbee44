import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { degreeOfRepair, type FittedRepair } from "../../../src/stats/repair/degree-of-repair.ts";
import type { RepairModel } from "../../../src/stats/repair/virtual-ages.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { historiesOf, publishedUnits, type UnitOf } from "./repair-data.ts";

function tableOf(name: string): Record<string, string>[] {
  const [header = "", ...lines] = readFileSync(new URL(name, import.meta.url), "utf8")
    .trim()
    .split("\n");
  return lines.map((line) => Object.fromEntries(line.split(",").map((cell, at) => [header.split(",")[at], cell])));
}

const simulated = publishedUnits(new PublishedCase("15a_kijima_simulated"));
let repair = 0;
const larger: Record<string, UnitOf[]> = {
  simulated,
  late: simulated.map((unit) => ({ ...unit, entry: 0.3 * unit.end })),
  planned: simulated.map(({ repairs, ...unit }) => ({
    ...unit,
    repairs: repairs.map((age) => (repair++ % 5 === 0 ? -age : age)),
  })),
  seats: publishedUnits(new PublishedCase("15b_kijima_valve_seats")),
};

function smallUnits(name: string): UnitOf[] {
  const units = new Map<string, UnitOf>();
  for (const row of tableOf("small-histories.csv").filter((one) => one["case"] === name)) {
    const unit = units.get(row["unit"]!) ?? { repairs: [], end: 0 };
    units.set(row["unit"]!, unit);
    if (row["failed"] === "1") unit.repairs.push(Number(row["age"]));
    else unit.end = Number(row["age"]);
  }
  return [...units.values()];
}

const figures: Record<string, (fit: FittedRepair) => number | null> = {
  q: ({ q }) => q.estimate,
  shape: ({ shape }) => shape.estimate,
  scale: ({ scale }) => scale.estimate,
  logLikelihood: ({ logLikelihood }) => logLikelihood,
  "q.low": ({ q }) => q.low,
  "q.high": ({ q }) => q.high,
  "shape.low": ({ shape }) => shape.low,
  "shape.high": ({ shape }) => shape.high,
  "scale.low": ({ scale }) => scale.low,
  "scale.high": ({ scale }) => scale.high,
};

// SciPy, by reference-degrees.py beside this file. A top is flat, so its place is known there to the root of the precision of its height.
const rows = tableOf("reference-degrees.csv");
const tolerances: Record<string, { abs: number; rel: number }> = {
  q: { abs: 2e-6, rel: 2e-6 },
  shape: { abs: 0, rel: 2e-6 },
  scale: { abs: 0, rel: 2e-6 },
  logLikelihood: { abs: 1e-9, rel: 1e-9 },
};
const ofLimits = { abs: 1e-7, rel: 1e-6 };

describe("degreeOfRepair agrees with another program", () => {
  it("in four sets of units under both models, and in units whose likelihood has two tops", () => {
    expect(rows.filter((row) => larger[row["case"]!] !== undefined)).toHaveLength(8);
    expect(rows.filter((row) => Number(row["tops"]) > 1).length).toBeGreaterThan(4);
  });

  it.each(rows.map((row) => ({ row, name: row["case"]!, model: row["model"] as RepairModel })))(
    "$name, model $model",
    ({ row, name, model }) => {
      const found = degreeOfRepair(historiesOf(larger[name] ?? smallUnits(name)), { model, level: 0.95 });
      if (!found.converged) throw new Error(found.reason);
      for (const [figure, of] of Object.entries(figures)) {
        expectAgreement(of(found), Number(row[figure]), tolerances[figure] ?? ofLimits, figure);
      }
    },
  );
});
