import { readFileSync } from "node:fs";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { describe, expect, it } from "vitest";
import type { LifeAnswer, LifeGroup } from "../../src/questions/answer.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";
import { LifeAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

async function lifeOf(...args: string[]): Promise<LifeAnswer> {
  const ran = await runProgram(folder, "life", ...args, "--json");
  expect(ran.err).toBe("");
  return LifeAnswerSchema.parse(JSON.parse(ran.out)) as LifeAnswer;
}

const CASES = [
  { name: "01_ball_bearings", time: "revolutions_million", status: "failed" },
  { name: "02_nist_censored", time: "hours", status: "failed" },
  { name: "03_genfan", time: "hours", status: "status" },
];

describe.each(CASES)("framelife life --from $name", ({ name, time, status }) => {
  const published = new PublishedCase(name);
  const ask = (...more: string[]) =>
    lifeOf("--from", published.data, "--columns", `time=${time},status=${status}`, ...more);

  it.each([
    { figure: "weibull.shape", of: (group: LifeGroup) => group.shape.estimate },
    { figure: "weibull.scale", of: (group: LifeGroup) => group.scale.estimate },
    { figure: "weibull.loglik", of: (group: LifeGroup) => group.logLikelihood },
    { figure: "weibull.L10", of: (group: LifeGroup) => group.l10.estimate },
    { figure: "weibull.L10_ci95_lr_lo", of: (group: LifeGroup) => group.l10.low },
    { figure: "weibull.L10_ci95_lr_hi", of: (group: LifeGroup) => group.l10.high },
  ])("gives $figure as published", async ({ figure, of }) => {
    const { value, tolerance } = published.value(figure);
    expectAgreement(of((await ask("--interval", "profile")).groups[0]!), value, tolerance);
  });

  it("gives log-scale limits with --interval wald", async () => {
    const { value, tolerance } = published.value("weibull.shape_ci95_log_lo");
    expectAgreement((await ask("--interval", "wald")).groups[0]!.shape.low, value, tolerance);
  });
});

describe("framelife life --from a table", () => {
  it("says when nothing failed, what would change that, and exits 0", async () => {
    const ran = await runProgram(folder, "life", "--from", table("none.csv", "time,status\n100,0\n200,running\n"));
    expect(ran.status).toBe(0);
    expect(ran.out).toContain("no answer yet from 0 failures in 2 lives");
    expect(ran.out).not.toMatch(/NaN|undefined|null/);
  });

  it("says that one failure is too few for a fit", async () => {
    const ran = await runProgram(folder, "life", "--from", table("one.csv", "time,status\n100,1\n200,0\n300,0\n"));
    expect(ran.status).toBe(0);
    expect(ran.out).toContain("no answer yet from 1 failure in 3 lives");
  });

  it("leaves a life of no length out and counts it", async () => {
    const answer = await lifeOf("--from", table("zero.csv", "time,status\n0,1\n100,1\n200,1\n300,1\n"));
    expect(answer.basis).toMatchObject({ lives: 3, failed: 3, leftOut: { zero_length: 1 } });
  });

  it("takes each life without a unit's name as of a unit of its own, and one with it as that unit's", async () => {
    const rows = ["a,10", "a,20", ",30", ",40", "b,50", "c,60", "d,70", "e,80", "f,90"];
    const path = table("units.csv", `unit,time,status\n${rows.map((row) => `${row},1`).join("\n")}\n`);
    const { basis, groups } = await lifeOf("--from", path, "--interval", "clustered");
    expect(basis.lives).toBe(9);
    expect(groups[0]!.interval).toMatchObject({ method: "clustered", clusters: 8 });
  });

  it("gives the same where so many lives come as counts as where each comes alone", async () => {
    // Whole hours by a quadratic residue, spread as lives are: 21,000 lives of few hundred ages, a third of them failed.
    const rows = Array.from(
      { length: 21_000 },
      (_, k) => `${1 + ((k * k + 7 * k) % 401)},${k % 3 === 0 ? 1 : 0},${k % 2}`,
    );
    const path = table("many.csv", `time,status,half\n${rows.join("\n")}\n`);
    const ask = (...more: string[]) => lifeOf("--from", path, "--interval", "profile", ...more);
    const [counted, alone] = [await ask(), await ask("--modes")];
    expect(counted.basis).toMatchObject({ lives: 21_000, failed: 7000 });
    const plain = ({ shape, scale, l10, mean, survival, paper, line }: LifeGroup) => ({
      shape,
      scale,
      l10,
      mean,
      survival,
      paper,
      line,
    });
    expect(plain(counted.groups[0]!)).toEqual(plain(alone.groups[0]!));
    const halves = await ask("--by", "half", "--where", "half < 2");
    expect(halves.groups.map(({ basis }) => basis.lives)).toEqual([10_500, 10_500]);
  });

  it("reads numbers of a Parquet file as they lie, and what is no number as from text", async () => {
    const path = join(folder, "lives.parquet");
    const instance = await DuckDBInstance.create(":memory:");
    const connection = await instance.connect();
    const lives =
      "(values (100.5, 1, 'a', 2), (200.0, 0, 'b', 1), (300.25, 1, 'b', 1)) as t(time, status, site, count)";
    await connection.run(
      `copy (select time::double as time, status::tinyint as status, site, count::bigint as count from ${lives}) to '${path}' (format parquet)`,
    );
    await connection.run(
      `copy (select -1.0::double as time, 2 as status) to '${join(folder, "odd.parquet")}' (format parquet)`,
    );
    connection.closeSync();
    instance.closeSync();
    const text = table("same.csv", "time,status,site,count\n100.5,1,a,2\n200,0,b,1\n300.25,1,b,1\n");
    const answers = [await lifeOf("--from", path, "--by", "site"), await lifeOf("--from", text, "--by", "site")];
    expect(answers[0]!.groups).toEqual(answers[1]!.groups);
    const odd = await runProgram(folder, "life", "--from", "odd.parquet");
    expect(odd.err).toContain('row 1: time must be a number from 0, found "-1.0"');
  });

  it("takes interval lives, and draws no curve from them", async () => {
    const text = "time_low,time_high\n,100\n100,200\n150,inf\n120,120\n90,210\n";
    const group = (await lifeOf("--from", table("interval.csv", text))).groups[0]!;
    expect(group.shape.estimate).toBeGreaterThan(0);
    expect(group.survival).toEqual([]);
    // By hand: where a low end is followed by a high end among 0, 90, 100 and 100, 120, 150 and 100, 120, 200, 210.
    expect(group.turnbull.map(({ low, high }) => [low, high])).toEqual([
      [90, 100],
      [120, 120],
      [150, 200],
    ]);
    expect(group.warnings.join()).toContain("known by an interval only");
  });

  it("counts a row as often as it says", async () => {
    const counted = await lifeOf("--from", table("counted.csv", "time,status,count\n100,1,2\n200,1,1\n300,0,3\n"));
    const listed = await lifeOf(
      "--from",
      table("listed.csv", "time,status\n100,1\n100,1\n200,1\n300,0\n300,0\n300,0\n"),
    );
    expect(counted.groups[0]!.shape.estimate).toBeCloseTo(listed.groups[0]!.shape.estimate!, 12);
    expect(counted.basis).toEqual(listed.basis);
  });

  it("gives no curves of over 50 groups, and the figures all the same", async () => {
    const rows = Array.from({ length: 51 * 4 }, (_, k) => `${100 + 13 * (k % 4) + k},1,s${k % 51}`);
    const answer = await lifeOf("--from", table("sites.csv", `time,status,site\n${rows.join("\n")}\n`), "--by", "site");
    expect(answer.groups).toHaveLength(51);
    expect(answer.groups.every(({ survival, paper, line }) => survival.length + paper.length + line.length === 0)).toBe(
      true,
    );
    expect(answer.groups.every(({ l10 }) => l10.estimate !== null)).toBe(true);
    expect(answer.warnings.join()).not.toContain("no survival curve");
  });

  it("answers apart --by a column and only --where a condition holds", async () => {
    const path = table("by.csv", "time,status,site,load\n10,1,a,1\n20,1,a,2\n30,1,b,3\n40,1,b,10\n50,1,b,9\n");
    const answer = await lifeOf("--from", path, "--by", "site", "--where", "load < 10");
    expect(answer.groups.map(({ by, basis }) => [by["site"], basis.lives])).toEqual([
      ["a", 2],
      ["b", 2],
    ]);
  });

  it.each([
    { args: ["--where", "1) from plain where (1=1"], says: "it is not one condition" },
    { args: ["--where", "true); drop table plain; select (true"], says: "Cannot use --where" },
    { args: ["--where", "1 = 0) or (1 = 1"], says: "Cannot use --where" },
    { args: ["--where", "load > 1 where (1 = 1)"], says: "Cannot use --where" },
    { args: ["--where", "loads < 3"], says: 'there is no column "loads", the nearest is "load"; the columns are ' },
    { args: ["--where", 'load = "heavy"'], says: 'there is no column "heavy"; the columns are ' },
    { args: ["--by", "hours"], says: 'Cannot group by "hours": it is known only when a life has ended' },
    { args: ["--by", "lode"], says: 'Cannot group by "lode": there is no such column; the columns are' },
    { args: ["--fleet", "saltmere"], says: "Cannot use --fleet with --from" },
    { args: ["--slot", "drive_end_bearings"], says: "Cannot use --slot with --from" },
    { args: ["--as-of", "2020-01-01", "--clock", "days"], says: "Cannot use --as-of, --clock with --from" },
    { args: ["--level", "95"], says: "0.95" },
    { args: ["--interval", "exact"], says: "Allowed choices are profile, calibrated, clustered, wald, bootstrap" },
    { args: ["--columns", "hours=time"], says: "Cannot use --columns hours=...: the names are time, status" },
  ])("refuses $args with status 2", async ({ args, says }) => {
    const ran = await runProgram(
      folder,
      "life",
      "--from",
      table("plain.csv", "time,status,load\n1,1,2\n2,1,3\n"),
      ...args,
    );
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
    expect(ran.out).toBe("");
  });

  it.each([
    { text: "time,status\n5,1\nfive,1\n", says: 'row 2: time must be a number from 0, found "five"' },
    { text: "time,status\n5,1\n-3,0\n", says: 'row 2: time must be a number from 0, found "-3"' },
    {
      text: "time,status\n5,broken\n",
      says: 'row 1: status must be 1 or failed, 0 or suspended or running, found "broken"',
    },
    { text: "time,status\n5,\n", says: "row 1: status must be 1 or failed, 0 or suspended or running, found nothing" },
    { text: "time,status,entry\n5,1,6\n", says: 'row 1: entry must be a number from 0, below the time, found "6"' },
    { text: "time,status,count\n5,1,1.5\n", says: 'row 1: count must be a whole number above 0, found "1.5"' },
    { text: "time,status\n5,1\nnan,1\n", says: 'row 2: time must be a number from 0, found "nan"' },
    { text: "time_low,time_high\n3,nan\n", says: "row 1: time_low must be a number from 0, time_high not below it" },
    { text: "time_low,time_high\n9,5\n", says: "row 1: time_low must be a number from 0, time_high not below it" },
    {
      text: "hours,state\n5,1\n",
      says: "it needs either time and status, or time_low and time_high; its columns are hours, state",
    },
    { text: "", says: "the file is empty" },
    { text: "time,status,last_seen\n5,1,3\n", says: 'column "last_seen" has a name that the answer needs for itself' },
    { text: "time,status\n", says: "it has a header and no rows" },
  ])("names the row and the remedy of a fault: $says", async ({ text, says }) => {
    const ran = await runProgram(folder, "life", "--from", table("faulty.csv", text));
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
  });

  it("says that a file is not there", async () => {
    const ran = await runProgram(folder, "life", "--from", "nowhere.csv");
    expect(ran).toMatchObject({ status: 1, out: "" });
    expect(ran.err).toContain("there is no such file");
  });

  it("writes the table as CSV, formulas made harmless", async () => {
    const path = table("formula.csv", 'time,status,site\n10,1,"=1+1"\n20,1,"=1+1"\n30,1,"=1+1"\n');
    const out = join(folder, "out.csv");
    await lifeOf("--from", path, "--by", "site", "--csv", out);
    const [header, row] = readFileSync(out, "utf8").split("\r\n");
    expect(header).toBe(
      "site,lives,failed,suspended,running,unknown,shape,shape_low,shape_high,scale,scale_low,scale_high,l10,l10_low,l10_high,median,median_low,median_high,mean,mean_low,mean_high,log_likelihood,reason",
    );
    expect(row).toMatch(/^'=1\+1,3,3,0,0,0,/);
  });
});
