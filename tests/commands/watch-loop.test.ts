import { describe, expect, it } from "vitest";
import { rebuildOnChange } from "../../src/commands/watch-loop.ts";

/** Files at a time in ms; and what a rebuild begun then does. */
type World = {
  files: (now: number) => Record<string, string>;
  /** How long a rebuild takes, and whether it goes well. */
  rebuild?: (now: number) => { takes: number; well: boolean };
  lookTakes?: number;
  until: number;
};

type Seen = { at: number; changed: string[] };

/** Runs the loop on a clock of our own; gives when it rebuilt and for which files, and what it said it waits for. */
async function watched({
  files,
  rebuild,
  lookTakes = 0,
  until,
}: World): Promise<{ seen: Seen[]; waits: string[]; looks: number[] }> {
  let now = 0;
  let running = 0;
  const seen: Seen[] = [];
  const waits: string[] = [];
  const looks: number[] = [];
  await rebuildOnChange({
    look: () => {
      looks.push(now);
      now += lookTakes;
      return new Map(Object.entries(files(now)));
    },
    rebuild: async (changed) => {
      running++;
      expect(running, "rebuilds at once").toBe(1);
      seen.push({ at: now, changed });
      const { takes, well } = rebuild?.(now) ?? { takes: 0, well: true };
      now += takes;
      await Promise.resolve();
      running--;
      return well;
    },
    isStopped: () => now >= until,
    onWaiting: (path) => waits.push(path),
    pause: async (ms) => {
      now += ms;
    },
    now: () => now,
  });
  return { seen, waits, looks };
}

const from = (time: number, before: string, after: string) => (now: number) => (now < time ? before : after);

describe("rebuildOnChange()", () => {
  it("rebuilds at the start, and never again where nothing changes", async () => {
    const { seen } = await watched({ files: () => ({ a: "1" }), until: 600_000 });
    expect(seen).toEqual([{ at: 0, changed: [] }]);
  });

  it("rebuilds once a changed file has stood still for a second", async () => {
    const a = from(700, "1", "2");
    const { seen } = await watched({ files: (now) => ({ a: a(now), b: "1" }), until: 60_000 });
    // Seen at 1,000, still at 1,500 and 2,000: by hand.
    expect(seen).toEqual([
      { at: 0, changed: [] },
      { at: 2_000, changed: ["a"] },
    ]);
  });

  it("sees files that come, go, and are renamed over one another", async () => {
    const files = (now: number): Record<string, string> =>
      now < 900 ? { a: "1", gone: "1" } : now < 1_400 ? { a: "1" } : { a: "other", come: "1" };
    const { seen } = await watched({ files, until: 60_000 });
    expect(seen.slice(1)).toEqual([{ at: 2_500, changed: ["a", "gone", "come"] }]);
  });

  it("waits for a copy in progress, and says once which file it waits for", async () => {
    const copied = (now: number) => String(Math.min(now, 30_000));
    const { seen, waits } = await watched({ files: (now) => ({ copied: copied(now) }), until: 90_000 });
    expect(seen.slice(1)).toEqual([{ at: 31_000, changed: ["copied"] }]);
    expect(waits).toEqual(["copied"]);
  });

  it("does nothing where a file is as it was again before it stood still", async () => {
    const files = (now: number) => ({ a: now > 900 && now < 1_400 ? "2" : "1" });
    expect((await watched({ files, until: 60_000 })).seen).toHaveLength(1);
  });

  it("makes one more rebuild of all that changes during one", async () => {
    const [a, b, c] = [from(700, "1", "2"), from(3_000, "1", "2"), from(9_000, "1", "2")];
    const { seen } = await watched({
      files: (now) => ({ a: a(now), b: b(now), c: c(now) }),
      rebuild: () => ({ takes: 10_000, well: true }),
      until: 120_000,
    });
    expect(seen.map(({ changed }) => changed)).toEqual([[], ["a", "b", "c"]]);
  });

  it("tries a failure again by itself, at twice the time each time, and a change at once", async () => {
    const a = from(100_000, "1", "2");
    const { seen } = await watched({
      files: (now) => ({ a: a(now) }),
      rebuild: (now) => ({ takes: 0, well: now > 150_000 }),
      until: 1_000_000,
    });
    // After 10, 20 and 40 s; after the change at 100 s at once, then after 10, 20 and 40 s again: by hand.
    expect(seen.map(({ at }) => Math.round(at / 1000))).toEqual([0, 10, 30, 70, 101, 111, 131, 171]);
    expect(seen.filter(({ changed }) => changed.length > 0)).toEqual([{ at: 101_000, changed: ["a"] }]);
  });

  it("never waits over five minutes to try again", async () => {
    const { seen } = await watched({
      files: () => ({ a: "1" }),
      rebuild: () => ({ takes: 0, well: false }),
      until: 3_000_000,
    });
    const gaps = seen.slice(1).map(({ at }, index) => at - seen[index]!.at);
    expect(Math.max(...gaps)).toBe(300_000);
  });

  it("looks for a fifth of the time at most, however slow a folder is", async () => {
    const { looks } = await watched({ files: () => ({ a: "1" }), lookTakes: 2_000, until: 100_000 });
    expect(looks.length).toBeLessThanOrEqual(12);
    expect(looks.length).toBeGreaterThan(8);
  });
});
