import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { LifeAnswer } from "../../src/questions/answer.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { runProgram } from "../commands/run-program.ts";
import { LifeAnswerSchema } from "../questions/answer-schema.ts";

type Truth = { fleets: { fleet: string; lives: { slot: string; l10_hours: number; median_hours: number }[] }[] };

let folder = "";
let answer: LifeAnswer;
const truth = JSON.parse(readFileSync(packageFile("sample-data/truth.json"), "utf8")) as Truth;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
  cpSync(packageFile("sample-data"), folder, { recursive: true });
  expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0, err: "" });
  answer = LifeAnswerSchema.parse(JSON.parse((await runProgram(folder, "life", "--json")).out)) as LifeAnswer;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the sample workspace", () => {
  it("gives back its truth: at most 4 of the 30 intervals of L10 and median miss it", () => {
    // Binomial(30, 0.05): 4 misses or fewer in 98 of 100 samples; units repeat and effects are mixed, so the intervals are a little narrow.
    const intervals = truth.fleets.flatMap(({ fleet, lives }) =>
      lives.flatMap(({ slot, l10_hours, median_hours }) => {
        const group = answer.groups.find(({ by }) => by["fleet"] === fleet && by["slot"] === slot);
        return [
          { name: `${fleet} ${slot} L10`, value: l10_hours, found: group?.l10 },
          { name: `${fleet} ${slot} median`, value: median_hours, found: group?.median },
        ];
      }),
    );
    expect(intervals).toHaveLength(30);
    const missed = intervals.filter(
      ({ value, found }) => !((found?.low ?? Infinity) <= value && value <= (found?.high ?? 0)),
    );
    expect(missed.length, missed.map(({ name }) => name).join(", ")).toBeLessThanOrEqual(4);
  });

  it("answers for every fleet and slot with the sentence, the basis and the records behind it", () => {
    expect(answer.asOf).toBe("2024-12-31");
    expect(answer.answer).toMatch(
      /^Shortest-lived of 15 groups: .+, 10 % have failed by [\d,]+ h \([\d,]+ to [\d,]+\), from \d+ failures in \d+ lives; .+\.$/,
    );
    const { lives, failed, suspended, running, unknown } = answer.basis;
    expect(failed + suspended + running + unknown).toBe(lives);
    expect(answer.basis.leftOut["start_unknown"]).toBeGreaterThan(0);
  });

  it("lists as many records as the answer rests on", async () => {
    const sql = /"(.+)"$/.exec(answer.rows)?.[1] ?? "";
    const listed = JSON.parse((await runProgram(folder, "query", "--as-of", "2024-12-31", sql, "--json")).out) as {
      left_out_hours: string | null;
    }[];
    expect(listed.filter((row) => row.left_out_hours === null)).toHaveLength(answer.basis.lives);
    expect(listed).toHaveLength(
      answer.basis.lives + Object.values(answer.basis.leftOut).reduce((sum, lives) => sum + lives, 0),
    );
  });

  it("says both ways where a fleet has neither a unit list nor meter rounds", () => {
    const vennick = answer.groups.filter(({ by }) => by["fleet"] === "vennick");
    expect(vennick.every(({ lastSeen }) => lastSeen !== null)).toBe(true);
  });

  it("finds the planted position to be the one that comes back most often", async () => {
    const ran = await runProgram(folder, "intervals", "--fleet", "ostrel", "--by", "position", "--json");
    const { groups } = JSON.parse(ran.out) as {
      groups: { by: { position: string }; mtbr: { failure: { estimate: number } } }[];
    };
    const worst = groups.toSorted((a, b) => a.mtbr.failure.estimate - b.mtbr.failure.estimate)[0];
    expect(worst?.by.position).toBe("B05");
  });
});
