import { describe, expect, it } from "vitest";
import { deriveBuilt } from "../../src/lives/derive-built.ts";
import { deriveLives } from "../../src/lives/derive-lives.ts";
import { askBench } from "../../src/questions/bench.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { configurationOf, DRIVE, type Story, tell } from "../lives/story.ts";

const days = (from: number, more: number) => new Date(Date.UTC(2010, 0, 1 + from + more)).toISOString().slice(0, 10);

/** Built on one day and back for failure some days later, each of another frame. */
function pairOf(unit: string, built: number, back: number): NonNullable<Story["cards"]> {
  return [
    { unit, removed_on: days(built, -9), built_on: days(built, 0), installed_on: days(built, 1), reason: "planned" },
    { unit, removed_on: days(back, 0), installed_on: days(back, 5), reason: "failure" },
  ];
}

async function comebacksOf(cards: Story["cards"]): Promise<string[]> {
  const store = await openMemory();
  try {
    await tell(store.connection, { cards: cards! });
    const configuration = configurationOf({ slots: [DRIVE] });
    const derived = await deriveLives(store.connection, { configuration, asOf: "2020-01-01" });
    await deriveBuilt(store.connection, configuration);
    const source = { kind: "workspace" as const, configuration, ...derived };
    const { groups } = await askBench(store.connection, { fleet: "saltmere", by: [], level: 0.95 }, source);
    return groups[0]!.comebacks!.list.map(({ unit, backOn }) => `${unit} ${backOn}`);
  } finally {
    store.close();
  }
}

describe("the comebacks that bench lists", () => {
  it("stand by the day they came back, the latest first, whenever they were built", async () => {
    const cards = [...pairOf("F1", 0, 80), ...pairOf("F2", 30, 40), ...pairOf("F3", 20, 60)];
    expect(await comebacksOf(cards)).toEqual(["F1 2010-03-22", "F3 2010-03-02", "F2 2010-02-10"]);
  });

  it("are the hundred that came back last, of more", async () => {
    const quick = Array.from({ length: 100 }, (_, at) => pairOf(`F${at + 2}`, 10, 20 + (at % 40)));
    const list = await comebacksOf([...pairOf("F1", 0, 85), ...quick.flat()]);
    expect(list).toHaveLength(100);
    expect(list[0]).toBe("F1 2010-03-27");
    expect(list.at(-1)).toMatch(/2010-01-21$/);
  });
});
