import { rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { builtScript } from "./built-script.ts";
import { fuzz } from "./fuzz.ts";

let worker = "";
beforeAll(async () => {
  worker = await builtScript("worker");
});
afterAll(() => rmSync(worker, { force: true }));

describe("exports, pipelines and questions spoilt at random", () => {
  it("are accepted with their rows accounted for, or refused in words, for a minute", async () => {
    const { cases, kinds, faults } = await fuzz({
      worker,
      seed: 20_261_126,
      seconds: 60,
      keep: join(tmpdir(), "fuzz"),
    });
    expect(faults).toEqual([]);
    // A busy machine tries one case in two seconds.
    expect(cases).toBeGreaterThan(15);
    expect(Object.keys(kinds).length).toBeGreaterThan(4);
    const all = Object.values(kinds);
    for (const way of ["accepted", "refused"] as const) {
      expect(
        all.reduce((sum, kind) => sum + kind[way], 0),
        way,
      ).toBeGreaterThan(cases / 20);
    }
  });
});
