import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { liveFleet } from "./live-fleet.ts";
import { recordFleet } from "./record-fleet.ts";
import type { Scenario } from "./scenario.ts";
import { type Truth, tellTruth } from "./tell-truth.ts";
import { worldOf } from "./world.ts";
import { type WrittenFile, writeExports } from "./write-exports.ts";
import { writeParts } from "./write-parts.ts";

/** What was made: where, and how much of it. */
export type SimulationReport = {
  out: string;
  truthFile: string;
  units: number;
  cards: number;
  files: WrittenFile[];
  truth: Truth;
};

/**
 * Lives the scenario's fleets through and writes their records as exports, and the truth beside them in `truth.json`.
 * The same scenario and seed give the same bytes.
 */
export async function simulate(
  scenario: Scenario,
  { seed, out }: { seed: number; out: string },
): Promise<SimulationReport> {
  await mkdir(out, { recursive: true });
  const sources = [];
  for (const plan of scenario.fleets) {
    const world = worldOf(scenario, plan, seed);
    const history = liveFleet(world);
    const records = recordFleet(world, history);
    const files = await writeExports(world, records, out);
    sources.push({ history, records, files });
  }
  const shopFiles = scenario.parts === undefined ? [] : await writeParts(scenario.parts, out);
  const truth = tellTruth(scenario, sources, { seed, shopFiles });
  const truthFile = join(out, "truth.json");
  await writeFile(truthFile, `${JSON.stringify(truth, null, 2)}\n`);
  return {
    out,
    truthFile,
    units: sources.reduce((sum, { records }) => sum + records.units.length, 0),
    cards: sources.reduce((sum, { records }) => sum + records.cards.length, 0),
    files: [...sources.flatMap(({ files }) => files), ...shopFiles],
    truth,
  };
}
