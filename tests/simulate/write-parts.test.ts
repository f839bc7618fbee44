import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PartsPlan } from "../../src/simulate/parts-plan.ts";
import { writeParts } from "../../src/simulate/write-parts.ts";
import { scratchFolder } from "./scratch-folder.ts";

describe("writeParts()", () => {
  it("writes each part once, and each of its places once a count; what is not known stays blank", async () => {
    const plan = PartsPlan.parse({
      folder: "quillhaven",
      currency: "EUR",
      counted_on: ["2024-06-28", "2024-12-20"],
      list: [
        {
          ...{
            part: "QB-31 pair",
            title: "Pair, drive end",
            slot: "drive_end_bearings",
            price: 486,
            pack: 1,
            minimum: 4,
          },
          lead_days: { usual: 112, shortest: 84, longest: 182 },
          stock: {
            Store: [{ on_hand: 9 }, { on_hand: 0, on_order: 6, due_on: "2025-02-14" }],
            Bench: [{ on_hand: 2 }, { on_hand: 1 }],
          },
        },
        { part: "QB-30 pair", title: "Pair", replaced_by: "QB-31 pair" },
      ],
    });
    const out = scratchFolder();
    expect(await writeParts(plan, out)).toEqual([
      { path: "exports/quillhaven/parts.csv", rows: 2, planted: {} },
      { path: "exports/quillhaven/stock.csv", rows: 4, planted: {} },
    ]);
    const lines = (file: string) => readFileSync(join(out, "exports/quillhaven", file), "utf8").split("\n");
    // By hand, from the plan above.
    expect(lines("parts.csv")).toEqual([
      'Part no,Name,Goes into,Price,Currency,"Lead time, days","Shortest lead time, days","Longest lead time, days",Pack of,Minimum order,Replaced by',
      'QB-31 pair,"Pair, drive end",Drive-end bearings,486.00,EUR,112,84,182,1,4,',
      "QB-30 pair,Pair,,,,,,,,,QB-31 pair",
      "",
    ]);
    expect(lines("stock.csv")).toEqual([
      "Part no,Store,Counted on,On hand,On order,Due on",
      "QB-31 pair,Store,2024-06-28,9,,",
      "QB-31 pair,Bench,2024-06-28,2,,",
      "QB-31 pair,Store,2024-12-20,0,6,2025-02-14",
      "QB-31 pair,Bench,2024-12-20,1,,",
      "",
    ]);
  });
});
