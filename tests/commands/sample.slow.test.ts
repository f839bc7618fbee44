import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { BenchAnswerSchema, CompareAnswerSchema, SparesAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("framelife demo", () => {
  it("replaces its own earlier copy and nothing else", async () => {
    writeFileSync(join(folder, "letter.txt"), "keep");
    const refused = await runProgram(folder, "demo", "--out", ".");
    expect(refused.status).toBe(1);
    expect(refused.err).toContain("the folder holds something else");
    expect(readdirSync(folder)).toEqual(["letter.txt"]);
    for (let time = 0; time < 2; time++) {
      const ran = await runProgram(folder, "demo", "--out", "demo");
      expect(ran).toMatchObject({ status: 0, err: "" });
      expect(ran.out).toContain("Saltmere drainage stations: a rebuild for failure every");
    }
    expect(existsSync(join(folder, "demo/report/fleet-vennick.html"))).toBe(true);
  });
});

describe("framelife simulate", () => {
  it("makes the sample's exports again from its scenario and seed", async () => {
    const { seed } = JSON.parse(readFileSync(packageFile("sample-data/truth.json"), "utf8")) as { seed: number };
    const scenario = readFileSync(packageFile("sample-data/scenario.yaml"), "utf8").replace(
      /lives: \d+/,
      "lives: 1000",
    );
    writeFileSync(join(folder, "scenario.yaml"), scenario);
    const ran = await runProgram(folder, "simulate", "scenario.yaml", "--seed", String(seed), "--out", "made");
    expect(ran).toMatchObject({ status: 0, err: "" });
    const file = "exports/saltmere/frame-register.csv";
    expect(readFileSync(join(folder, "made", file), "utf8")).toBe(
      readFileSync(packageFile(`sample-data/${file}`), "utf8"),
    );
  });
});

describe("framelife offenders on the sample", () => {
  it("names the positions and the part batch that the scenario makes bad, and no frame", async () => {
    expect(await runProgram(folder, "demo", "--out", "demo")).toMatchObject({ status: 0 });
    const named = async (by: string) => {
      const ran = await runProgram(join(folder, "demo"), "offenders", "--by", by, "--json");
      const { entities } = JSON.parse(ran.out) as { entities: { id: string; verdict: string }[] };
      return new Set(entities.filter(({ verdict }) => verdict === "offender").map(({ id }) => id));
    };
    const { effects } = JSON.parse(readFileSync(packageFile("sample-data/truth.json"), "utf8")) as {
      effects: { batch: { bad: { batch: string } } };
    };
    const scenario = readFileSync(packageFile("sample-data/scenario.yaml"), "utf8");
    const planted = [...scenario.matchAll(/\{ position: ([\w-]+), slots/g)].map(([, position]) => position!);
    expect(planted).toHaveLength(3);
    expect(await named("position")).toEqual(new Set(planted));
    expect(await named("batch")).toEqual(new Set([effects.batch.bad.batch]));
    expect(await named("unit")).toEqual(new Set());
  });
});

describe("framelife compare on the sample", () => {
  it("finds what the scenario makes of end play, lube and the bad part batch", async () => {
    const { effects } = JSON.parse(readFileSync(packageFile("sample-data/truth.json"), "utf8")) as {
      effects: {
        end_play: { best_thou: number };
        batch: { bad: { batch: string } };
        lube: { life: { grease: number } };
      };
    };
    expect(await runProgram(folder, "demo", "--out", "demo")).toMatchObject({ status: 0 });
    const compared = async (...args: string[]) => {
      const ran = await runProgram(join(folder, "demo"), "compare", ...args, "--json");
      expect(ran.err).toBe("");
      return CompareAnswerSchema.parse(JSON.parse(ran.out)) as CompareAnswer;
    };
    const { form, best } = await compared("end_play");
    expect(form).toBe("best inside");
    expect(best.low!).toBeLessThan(effects.end_play.best_thou);
    expect(best.high!).toBeGreaterThan(effects.end_play.best_thou);
    const lube = await compared("lube", "--reference", "grease");
    expect(lube.verdict).toBe("longer");
    expect(lube.lifeRatio.low!).toBeLessThan(1 / effects.lube.life.grease);
    expect(lube.lifeRatio.high!).toBeGreaterThan(1 / effects.lube.life.grease);
    const batches = await compared("part_batch", "--slot", "drive_end_seals");
    const named = batches.contrasts.filter(({ verdict }) => verdict !== "not enough evidence");
    expect(named.map(({ contrast, verdict }) => [contrast.first, verdict])).toEqual([
      [effects.batch.bad.batch, "shorter"],
    ]);
  });
});

describe("framelife bench and spares on the sample", () => {
  it("name every wrong pack that a card has the values to show, and hold what the same fleets went on to use", async () => {
    expect(await runProgram(folder, "demo", "--out", "demo")).toMatchObject({ status: 0 });
    const demo = join(folder, "demo");
    const truth = JSON.parse(readFileSync(packageFile("sample-data/truth.json"), "utf8")) as Truth;
    for (const { fleet, wrong_shims: wrong } of truth.fleets) {
      const ran = await runProgram(demo, "bench", "--fleet", fleet, "--json");
      const { groups } = BenchAnswerSchema.parse(JSON.parse(ran.out));
      const flagged = new Set(groups[0]!.shims!.flagged.map(({ card }) => card));
      const shown = await runProgram(demo, "query", SHOWABLE.replace("FLEET", fleet), "--json");
      const cards = new Set((JSON.parse(shown.out) as { card: string }[]).map(({ card }) => card));
      const missed = wrong.map(({ card }) => card).filter((card) => cards.has(card) && !flagged.has(card));
      expect(missed).toEqual([]);
    }
    const ran = await runProgram(demo, "spares", "--json");
    const { openings, parts } = SparesAnswerSchema.parse(JSON.parse(ran.out));
    const sum = (counts: number[]) => counts.reduce((all, one) => all + one, 0);
    const opened = sum(truth.fleets.map(({ use_after: { opened } }) => sum(opened)));
    expect(opened).toBeGreaterThanOrEqual(openings.low!);
    expect(opened).toBeLessThanOrEqual(openings.high!);
    const sleeves = sum(
      truth.fleets.flatMap(({ use_after: { renewed } }) =>
        renewed.filter(({ slot }) => slot === "shaft_sleeve").map(({ by_month: months }) => sum(months)),
      ),
    );
    const { expected } = parts.find(({ goesInto }) => goesInto.some(({ slot }) => slot === "shaft_sleeve"))!;
    expect(sleeves).toBeGreaterThanOrEqual(expected.low!);
    expect(sleeves).toBeLessThanOrEqual(expected.high!);
  });
});

/** Cards that tell an end play, shims, and what they are reckoned from. */
const SHOWABLE = `select card from built where fleet = 'FLEET' and end_play is not null and shims is not null
  and coalesce(end_play_unshimmed, race_depth - spigot_height) is not null`;

type Truth = {
  fleets: {
    fleet: string;
    wrong_shims: { card: string }[];
    use_after: { opened: number[]; renewed: { slot: string; by_month: number[] }[] };
  }[];
};
