import { cpSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ingest } from "../../src/ingest/ingest.ts";
import { drawBuild } from "../../src/simulate/draw-build.ts";
import { drawUnits } from "../../src/simulate/draw-units.ts";
import { liveFleet } from "../../src/simulate/live-fleet.ts";
import { recordFleet } from "../../src/simulate/record-fleet.ts";
import { Scenario } from "../../src/simulate/scenario.ts";
import type { Truth } from "../../src/simulate/tell-truth.ts";
import { worldOf } from "../../src/simulate/world.ts";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { runStep } from "../../src/store/run-step.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { bareScenario, sampleFolder, sampleScenario } from "./sample.ts";
import { scratchFolder } from "./scratch-folder.ts";

describe("a build's shims", () => {
  const scenario = Scenario.parse(bareScenario());
  const world = worldOf(scenario, scenario.fleets[0]!, 1);
  const [unit] = drawUnits(world);
  const builds = Array.from({ length: 2000 }, (_, number) =>
    drawBuild(world, unit!, { number, builtOn: 15_000, lube: "grease" }),
  );

  it("are whole thou that take up what is too much without them; a gauge without error reads so", () => {
    for (const build of builds) {
      const { shimsThou, endPlayThou, unshimmedReadThou, raceDepthReadThou, spigotHeightReadThou } = build;
      expect(shimsThou).toBe(Math.max(1, Math.round(shimsThou)));
      expect(unshimmedReadThou).toBeCloseTo(endPlayThou + shimsThou, 9);
      expect(raceDepthReadThou - spigotHeightReadThou).toBeCloseTo(endPlayThou + shimsThou, 9);
    }
  });

  it("are a pack of 12 thou in the mean, whatever the end play is", () => {
    const mean = (of: (build: (typeof builds)[number]) => number) =>
      builds.reduce((sum, build) => sum + of(build), 0) / builds.length;
    const [packs, plays] = [mean(({ shimsThou }) => shimsThou), mean(({ endPlayThou }) => endPlayThou)];
    // by hand: 2.5 / sqrt(2000) = 0.056, so within four of these; a product of two that know nothing of each other within 4 x 2.5 x 1 / sqrt(2000)
    expect(Math.abs(packs - 12)).toBeLessThan(0.23);
    const together = mean(({ shimsThou, endPlayThou }) => (shimsThou - packs) * (endPlayThou - plays));
    expect(Math.abs(together)).toBeLessThan(0.23);
  });

  it("stand on the card as they went in, unless the scenario has some written wrong, of which there is a list", () => {
    const history = liveFleet(world);
    const { cards, wrongShims } = recordFleet(world, history);
    expect(wrongShims).toEqual([]);
    expect(cards.filter(({ shimsThou, unshimmedThou }) => shimsThou !== null && unshimmedThou === null)).toEqual([]);
    const sample = sampleScenario();
    const records = sample.fleets.map((plan) => {
      const own = worldOf(sample, plan, sample.seed);
      return recordFleet(own, liveFleet(own));
    });
    const wrong = records.flatMap((record) => record.wrongShims);
    // Binomial(1033, 0.02): 20.7 with a deviation of 4.5
    expect(wrong.length).toBeGreaterThan(6);
    expect(wrong.length).toBeLessThan(36);
    for (const { written, fitted } of wrong) {
      expect(written).toBeGreaterThan(0);
      expect(Math.abs(written - fitted)).toBeGreaterThanOrEqual(4);
      expect(Math.abs(written - fitted)).toBeLessThanOrEqual(9);
    }
    const built = records.flatMap((record) => record.cards).filter(({ shimsThou }) => shimsThou !== null);
    const blank = built.filter(({ raceDepthThou }) => raceDepthThou === null).length;
    // Binomial(n, 0.06), n about 1,000: within four deviations of 0.0075
    expect(Math.abs(blank / built.length - 0.06)).toBeLessThan(0.03);
  });
});

describe("the sample's cards", () => {
  it("add up but for packs that the truth knows to be wrong, and readings that were copied", async () => {
    const truth = JSON.parse(readFileSync(join(sampleFolder, "truth.json"), "utf8")) as Truth;
    const folder = scratchFolder();
    for (const part of ["framelife.yaml", "exports"])
      cpSync(join(sampleFolder, part), join(folder, part), { recursive: true });
    const workspace = readWorkspace(folder);
    const store = await openStore(workspace.storePath, "write");
    try {
      await ingest(workspace, store.connection);
      await runStep(store.connection, "30_card", { band_edges: "[]", mm_per_length: 0.0254, fahrenheit: false });
      const cards = (await rows(
        store.connection,
        `select fleet, card, coalesce(end_play_unshimmed, race_depth - spigot_height) - shims - end_play as off from card
         where off is not null and abs(end_play - 5) > 0.2`,
      )) as { fleet: string; card: string; off: number }[];
      for (const [fleet, readings, rounding] of [
        ["saltmere", 2, 0.5 * Math.SQRT2], // half thou, of two readings
        ["ostrel", 3, (0.01 / 0.0254) * 2], // 0.01 mm, of four
      ] as const) {
        const slips = new Map(
          truth.fleets
            .find((told) => told.fleet === fleet)!
            .wrong_shims.map(({ card, written_thou, fitted_thou }) => [card, fitted_thou - written_thou]),
        );
        const left = cards
          .filter((card) => card.fleet === fleet)
          .map(({ card, off }) => ({ wrong: slips.has(card), left: off - (slips.get(card) ?? 0) }));
        // by hand: readings of 0.3 thou each, and what rounding to a step adds, its square over 12
        const sd = Math.sqrt(readings * 0.3 ** 2 + rounding ** 2 / 12);
        expect(left.length).toBeGreaterThan(250);
        expect(left.filter(({ wrong }) => wrong).length).toBeGreaterThan(3);
        expect(Math.max(...left.map((card) => Math.abs(card.left)))).toBeLessThan(4.5 * sd);
        const seen = Math.sqrt(left.reduce((sum, card) => sum + card.left ** 2, 0) / left.length);
        expect(Math.abs(seen / sd - 1)).toBeLessThan(0.15); // 4 / sqrt(2 x 350)
      }
    } finally {
      store.close();
    }
  });
});
