import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { recordedShelf } from "../../src/questions/spares-shelf.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";

let store: Store;
beforeAll(async () => {
  store = await openMemory();
  await store.connection.run(`create or replace temp table as_of as select '2024-12-31'::date as as_of;
    insert into records.stock_row values
      (1, 1, 'PAIR', 'main', '2024-06-01', 9, 4, '2024-07-01', 1, 'current', false),
      (1, 2, 'PAIR', 'main', '2024-12-01', 3, 6, null, 2, 'current', false),
      (1, 3, 'PAIR', 'main', '2025-02-01', 50, null, null, 3, 'current', false),
      (1, 4, 'SEAL', 'main', '2024-12-01', 0, 1, '2025-01-05', 4, 'current', false),
      (1, 5, 'SEAL', 'bench', '2024-11-01', 2, 40, '2025-06-30', 5, 'current', false),
      (1, 6, 'SEAL', 'van', null, 1, null, null, 6, 'current', false),
      (1, 7, 'NUT', null, null, -3, null, null, 7, 'current', false)`);
});
afterAll(() => store.close());

describe("recordedShelf()", () => {
  it("takes the latest count of a place whole: a due day that it does not name is not that of an older count", async () => {
    const { parts } = await recordedShelf(store.connection);
    expect(parts.get("PAIR")).toMatchObject({ onHand: 3, onOrder: 6, dueOn: null, due: [{ on: null, pieces: 6 }] });
  });

  it("adds places up and keeps apart what comes on different days", async () => {
    const { parts } = await recordedShelf(store.connection);
    expect(parts.get("SEAL")).toMatchObject({
      ...{ onHand: 3, onOrder: 41, dueOn: "2025-01-05" },
      due: [
        { on: "2025-01-05", pieces: 1 },
        { on: "2025-06-30", pieces: 40 },
      ],
    });
    // One place without a day hides no old count of another
    expect(parts.get("SEAL")).toMatchObject({ countedOn: "2024-11-01" });
    expect(parts.get("NUT")).toMatchObject({ onHand: -3, onOrder: 0, due: null, countedOn: null });
  });
});
