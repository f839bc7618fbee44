import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { workbook } from "../../src/report/workbook.ts";
import { ExportsAtHand } from "../ingest/export/exports-at-hand.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

describe("workbook()", () => {
  it("is read back as it was: texts as texts, figures as figures, blanks as blanks", async () => {
    const rows = [
      ["=1+1", 12.5, null],
      ["<b>&\"'", 0, "2024-06-30"],
      ["@SUM(A1)", -3, "Ünïcode ⟶"],
    ];
    const bytes = await workbook({ name: "Order", headers: ["Part", "Cost & more", "Why"], rows });
    const read = await exports.read("order.xlsx", bytes, { format: "xlsx" });
    expect(read.header).toEqual(["Part", "Cost & more", "Why"]);
    expect(read.rows).toEqual(rows.map((row) => row.map((cell) => (cell === null ? "" : String(cell)))));
  });

  it("holds a header alone", async () => {
    const bytes = await workbook({ name: "Order", headers: ["Part", "Why"], rows: [] });
    expect(await exports.read("empty.xlsx", bytes, { format: "xlsx" })).toEqual({ header: ["Part", "Why"], rows: [] });
  });
});
