import { expect, it } from "vitest";
import { overviewSpares, readyOverview } from "../../src/questions/overview.ts";
import { columns } from "../../src/store/columns.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { configurationOf, DRIVE, type Story, tell } from "../lives/story.ts";

const failedOn = (unit: string, removed_on: string) => ({
  unit,
  removed_on,
  installed_on: removed_on,
  reason: "failure",
  slots: { [DRIVE]: { fitted: true, condition: "failed" } },
});

const story: Story = {
  units: ["A", "B"].map((unit) => ({ unit, commissioned_on: "2015-01-01" })),
  cards: [failedOn("A", "2016-02-01"), failedOn("B", "2016-05-01"), failedOn("A", "2017-04-01")],
};

it("forecasts for all fleets, and leaves behind no table that only the forecast reads", async () => {
  const store = await openMemory();
  try {
    await tell(store.connection, story);
    const tables = () =>
      columns(
        store.connection,
        "select table_name as name from duckdb_tables() where database_name = 'temp' order by all",
        { name: "text" },
      );
    const asked = (await readyOverview(
      store.connection,
      { ...configurationOf({}), clock: "days" },
      { asOf: "2018-12-31", level: 0.95 },
    ))!;
    const before = await tables();
    const answer = await overviewSpares(store.connection, asked);
    expect(answer.basis).toMatchObject({ units: 2, failed: 3 });
    expect(await tables()).toEqual(before);
  } finally {
    store.close();
  }
});
