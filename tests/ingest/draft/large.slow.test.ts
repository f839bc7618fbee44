import { describe, expect, it } from "vitest";
import { MOST_ROWS } from "../../../src/ingest/draft/profile-table.ts";
import { draftOf, entryOf, pipelineOf } from "./drafts-at-hand.ts";

describe("a draft of a large export", () => {
  it("looks at a sample, says so, and is the same each time", async () => {
    const rows = Array.from({ length: MOST_ROWS + 50_000 }, (_, index) => {
      const day = `${String(1 + (index % 28)).padStart(2, "0")}/${String(1 + (index % 12)).padStart(2, "0")}/${2015 + (index % 9)}`;
      return `K${index},F${index % 900},${day},${index % 3 === 0 ? "failed" : "hours up"}`;
    });
    const text = ["Card,Frame,Removed,Reason", ...rows, ""].join("\n");
    const [draft, again] = [await draftOf("cards.csv", text), await draftOf("cards.csv", text)];
    expect(draft).toMatchObject({ rows: MOST_ROWS + 50_000, sampled: MOST_ROWS });
    expect(entryOf(draft, "removed_on", "dates")).toEqual(["%d/%m/%Y"]);
    expect(pipelineOf(again)).toEqual(pipelineOf(draft));
  });
});
