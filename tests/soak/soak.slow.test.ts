import { describe, expect, it } from "vitest";
import { builtProgram } from "../ingest/built-program.ts";
import { soak } from "./soak.ts";

const program = builtProgram();

describe("a workspace under faults of all kinds", () => {
  it("opens, balances, loses nothing and leaves nothing behind over 20 cycles", async () => {
    const { faults, troubles, growth } = await soak({ program: program.script, cycles: 20, seed: 20_261_126 });
    expect(faults).toEqual([]);
    expect(Object.keys(troubles).length).toBeGreaterThan(5);
    expect(growth).toHaveLength(4);
  });
});
