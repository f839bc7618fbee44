import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { BenchAnswer } from "../../src/questions/bench-answer.ts";
import { expectAgreement } from "../agree.ts";
import { BenchAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

async function ask(...args: string[]): Promise<BenchAnswer["groups"][number] & { whole: BenchAnswer }> {
  const ran = await runProgram(folder, "bench", ...args, "--json");
  expect(ran.err).toBe("");
  const whole = BenchAnswerSchema.parse(JSON.parse(ran.out)) as BenchAnswer;
  expect(whole.groups).toHaveLength(1);
  return { ...whole.groups[0]!, whole };
}

/** What a run says that is refused. */
async function refused(status: number, ...args: string[]): Promise<string> {
  const ran = await runProgram(folder, "bench", ...args);
  expect(ran.status).toBe(status);
  expect(ran.out).toBe("");
  return ran.err;
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rates of ten batches
const FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

describe("framelife bench --from", () => {
  it("gives the published limits of an individuals chart, from the moving ranges of the rows as they stand", async () => {
    const { asBuilt, shims, comebacks } = await ask("--from", table("flow.csv", `value\n${FLOW.join("\n")}\n`));
    // As published: mean 50.81, mean moving range 1.8778, limits 55.8041 and 45.8159
    const { centre, low, high, range } = asBuilt.chart.limits!;
    expectAgreement(centre, 50.81, { abs: 5e-5 });
    expectAgreement(range.centre, 1.8778, { abs: 5e-5 });
    expectAgreement(high, 55.8041, { abs: 2e-3 }); // published with 1.128 for 1.12838
    expectAgreement(low, 45.8159, { abs: 2e-3 });
    expect(asBuilt.chart.points.map(({ value }) => value)).toEqual(FLOW);
    expect(asBuilt.chart.points[1]!.range).toBeCloseTo(2, 12);
    expect(asBuilt.chart.breaks).toBe(0);
    expect(asBuilt.window).toBeNull();
    expect(asBuilt.outside).toMatchObject({ estimate: null, count: 0, of: 0 });
    expect(asBuilt.outside.reason).toContain("no window");
    expect([shims, comebacks]).toEqual([null, null]);
  });

  // R: prop.test(3, 8, correct = FALSE)$conf.int; 2 and 7 themselves are inside
  it("holds each value against the window of its own row", async () => {
    const text = "value,low,high\n1.9,2,7\n2,2,7\n7,2,7\n7.1,2,7\n4,2,7\n4,5,7\n4,2,7\n4,2,7\n";
    const { asBuilt } = await ask("--from", table("windows.csv", text));
    expect(asBuilt).toMatchObject({ below: 2, above: 1, window: null });
    expect(asBuilt.outside).toMatchObject({ count: 3, of: 8, estimate: 0.375 });
    expectAgreement(asBuilt.outside.low, 0.136844285824, { rel: 1e-9 });
    expectAgreement(asBuilt.outside.high, 0.694257605397, { rel: 1e-9 });
    expect(asBuilt.chart.points.map(({ outside }) => outside)).toEqual([
      ...["below", null, null, "above", null, "below", null, null],
    ]);
  });

  it("takes the order from the dates, and tells months and models apart", async () => {
    const text = [
      "thou,built,type,low,high",
      "5,2024-03-02,A,2,7",
      "4,2024-02-01,B,2,7",
      "8,2024-03-01,A,2,7",
      ",2024-03-09,B,2,7",
      "",
    ].join("\n");
    const { asBuilt, splits, basis, whole } = await ask(
      ...["--from", table("dated.csv", text), "--columns", "value=thou,date=built,model=type"],
    );
    expect(asBuilt.chart.points.map(({ value, on }) => [value, on])).toEqual([
      [4, "2024-02-01"],
      [8, "2024-03-01"],
      [5, "2024-03-02"],
    ]);
    expect(asBuilt.window).toEqual({ low: 2, high: 7, source: null });
    expect(basis).toMatchObject({ builds: 4, readings: 3 });
    expect(
      splits.map(({ by, value, builds, readings, outside }) => [by, value, builds, readings, outside.count]),
    ).toEqual([
      ["month", "2024-02", 1, 1, 0],
      ["month", "2024-03", 3, 2, 1],
      ["model", "A", 2, 2, 1],
      ["model", "B", 2, 1, 0],
    ]);
    expect(whole.answer).toBe("1 of 3 builds with a reading lies outside 2 to 7, 33 % (6.1 to 79 %).");
  });

  it("tells readings that break a run rule: eight in a row on one side from the eighth on", async () => {
    // By hand: the mean lies between 4 and 6; nine at 4 and then nine at 6 end in runs of nine, the eighth and ninth of each break the rule
    const values = [...Array(9).fill(4), ...Array(9).fill(6)];
    const { asBuilt } = await ask("--from", table("runs.csv", `value\n${values.join("\n")}\n`));
    expect(asBuilt.chart.byRule).toContainEqual({ rule: "8 in a row on one side", readings: 4 });
    expect(asBuilt.chart.points[7]!.breaks).toContain("8 in a row on one side");
    expect(asBuilt.chart.points[6]!.breaks).not.toContain("8 in a row on one side");
  });

  it("answers for one value, for values all alike, and for none", async () => {
    const one = await ask("--from", table("one.csv", "value\n4\n"));
    expect(one.asBuilt.chart).toMatchObject({ limits: null, reason: "limits take two readings or more" });
    const alike = await ask("--from", table("alike.csv", `value\n${"5\n".repeat(12)}`));
    expect(alike.asBuilt.chart.limits).toBeNull();
    expect(alike.asBuilt.copied).toEqual(["100 % of the readings are one value"]);
    expect(alike.whole.warnings).toContainEqual(expect.stringContaining("look copied"));
    const none = await ask("--from", table("none.csv", "value,model\n,A\n,B\n"));
    expect(none.asBuilt).toMatchObject({ readings: 0, mean: null, histogram: [] });
    expect(none.whole.answer).toBe("2 builds are on record; no build has a reading.");
  });

  it("takes a condition and further columns, and writes the splits to a file", async () => {
    const file = table("more.csv", "value,shift,low,high\n1,day,2,7\n3,night,2,7\n5,day,2,7\n9,day,2,7\n");
    const { splits } = await ask("--from", file, "--by", "shift", "--where", "value < 9", "--csv", "splits.csv");
    expect(splits.map(({ by, value, outside }) => [by, value, outside.count])).toEqual([
      ["shift", "day", 1],
      ["shift", "night", 0],
    ]);
    const [header, first] = readFileSync(join(folder, "splits.csv"), "utf8").split("\n");
    expect(header).toMatch(/^fleet,by,value,builds,readings,mean,outside,/);
    expect(first).toMatch(/^,shift,day,2,2,3,1,0\.5,/);
  });

  it("names the rows that can't be used, and options that say nothing of a table", async () => {
    expect(await refused(1, "--from", table("bad.csv", "value\n4\n4 thou\n"))).toContain(
      "row 2: value must be a number",
    );
    expect(await refused(1, "--from", table("edges.csv", "value,low,high\n4,7,2\n"))).toContain(
      "low must not lie above high",
    );
    expect(await refused(1, "--from", table("days.csv", "value,date\n4,3/4/24\n"))).toContain(
      "date must be a day as YYYY-MM-DD",
    );
    expect(await refused(1, "--from", table("lacks.csv", "reading\n4\n"))).toContain("it needs value");
    const file = table("good.csv", "value\n4\n5\n");
    expect(await refused(2, "--from", file, "--fleet", "saltmere")).toContain("--fleet");
    expect(await refused(2, "--from", file, "--fitter", "F01")).toContain("--fitter");
    expect(await refused(2, "--from", file, "--reading", "4")).toContain("framelife bench UNIT");
    expect(await refused(2, "SD-1", "--from", file)).toContain("--from");
    expect(await refused(2, "--slot", "drive_end_bearings")).toContain("--slot");
    expect(await refused(2, "--from", file, "--by", "end_play")).toContain("end_play");
  });
});
