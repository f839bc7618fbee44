import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { TrialAssignAnswer, TrialPlanAnswer, TrialReadAnswer } from "../../src/questions/trial-answer.ts";
import { expectAgreement } from "../agree.ts";
import { TrialAssignAnswerSchema, TrialPlanAnswerSchema, TrialReadAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
  for (const part of ["pipelines", "exports"]) mkdirSync(join(folder, part));
  table("framelife.yaml", CONFIGURATION);
  table("pipelines/cards.yaml", CARDS);
  table("exports/cards.csv", cards());
  expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0 });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const CONFIGURATION = `
title: Quillhaven bearing-frame shop
as_of: 2024-12-31
fleets: [{ name: saltmere, title: Saltmere }]
slots:
  pump_end_seals: { title: Pump-end seals, quantity: 1, kind: seal }
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
windows: { end_play: { low: 0.0508, high: 0.1778, unit: mm, source: maker's manual } }
pipelines: [cards]
`;

const CARDS = `
title: Job cards
record: rebuild
layout: long
files: exports/cards.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  model: { column: Model }
  removed_on: { column: Out, dates: ["%Y-%m-%d"] }
  slot: { value: drive_end_bearings }
  condition: { column: Found, words: { bad: failed } }
  fitted: { column: New, words: { Y: yes } }
`;

/** Twelve frames of two models, each with five rebuilds for failure, 100 to 580 days apart. */
function cards(): string {
  const rows = Array.from({ length: 12 }, (_, frame) => {
    let day = Date.UTC(2019, 0, 1) / 86_400_000 + 10 * frame;
    return Array.from({ length: 5 }, (_, visit) => {
      if (visit > 0) day += 100 + 40 * ((frame * 7 + visit * 5) % 13);
      const out = new Date(day * 86_400_000).toISOString().slice(0, 10);
      return `C${frame}-${visit},F${frame},BF-${frame % 2 === 0 ? 60 : 80},${out},bad,Y`;
    }).join("\n");
  });
  return `Card,Frame,Model,Out,Found,New\n${rows.join("\n")}\n`;
}

function table(name: string, text: string): string {
  writeFileSync(join(folder, name), text);
  return name;
}

async function json(...args: string[]): Promise<unknown> {
  const ran = await runProgram(folder, "trial", ...args, "--json");
  expect(ran.err).toBe("");
  return JSON.parse(ran.out);
}

async function planned(...args: string[]): Promise<TrialPlanAnswer> {
  return TrialPlanAnswerSchema.parse(await json("plan", ...args)) as TrialPlanAnswer;
}

async function read(...args: string[]): Promise<TrialReadAnswer> {
  return TrialReadAnswerSchema.parse(await json("read", ...args)) as TrialReadAnswer;
}

const ARMS = ["--arms", "tight=2-4,wide=5-7", "--seed", "7"];

describe("framelife trial plan and assign", () => {
  beforeEach(() => rmSync(join(folder, "trials"), { recursive: true, force: true }));

  it("reckons failures, looks and time from the fleet's own lives", async () => {
    const answer = await planned(...ARMS, "--ratio", "2");
    // The lives of the cards above; R 4.2.2, survival 3.5-3: survreg(Surv(days, failed) ~ 1)
    expectAgreement(answer.shape, 1.60406033408, { rel: 1e-4 });
    expectAgreement(answer.scale, 532.757763198 / (365.25 / 12), { rel: 1e-4 });
    // By hand: (1.959964 + 0.841621)^2 / (0.25 (shape ln 2)^2), and 1.017 times as many for three looks (Jennison & Turnbull, table 2.4;
    // the spending function's own constant lies within half a percent of it)
    const one = (2.801585 / (answer.shape! * Math.log(2))) ** 2 / 0.25;
    const need = answer.needs.find(({ ratio }) => ratio === 2)!;
    expect(Math.abs(need.failures - 1.017 * one)).toBeLessThan(1 + 0.005 * one);
    expect(answer.looks.map(({ failures }) => failures)).toEqual(
      [1, 2, 3].map((at) => Math.round((at * need.failures) / 3)),
    );
    expect(answer.needs.map(({ ratio }) => ratio)).toEqual([1.25, 1.5, 2]);
    expect(answer.protocol!.plan).toMatchObject({
      unit: "thou",
      window: { low: 2, high: 7, source: "maker's manual" },
      slot: "drive_end_bearings",
      strata: ["saltmere, BF-60", "saltmere, BF-80"],
    });
    expect(answer.answer).toContain("to see one of tight and wide last 2 times as long as the other");
  });

  it("gives the bounds of three looks, and of one", async () => {
    // R: 2 * pnorm(-c(3.710, 2.511, 1.993)) of the published bounds of three even looks (Lan & DeMets 1983, recomputed)
    const { looks } = await planned(...ARMS, "--ratio", "1.8");
    expect(looks.map(({ failures }) => failures)).toEqual([12, 24, 36]);
    [0.000207259, 0.01203897, 0.04626144].forEach((p, at) => {
      expectAgreement(looks[at]!.p, p, { rel: 0.003 });
    });
    const once = await planned(...ARMS, "--looks", "1", "--name", "once");
    expectAgreement(once.looks[0]!.p, 0.05, { rel: 1e-6 });
  });

  it("keeps the protocol, refuses another plan, and records a change with its reason", async () => {
    expect(await planned(...ARMS, "--power", "0.9", "--try")).toMatchObject({ did: null, protocol: null, kept: null });
    const first = await planned(...ARMS);
    expect(first).toMatchObject({ did: "written", protocol: { decided_on: "2026-01-15", amendments: [] } });
    expect(await planned(...ARMS)).toMatchObject({ did: "unchanged" });
    const refused = await runProgram(folder, "trial", "plan", ...ARMS, "--ratio", "2");
    expect(refused).toMatchObject({ status: 2, out: "" });
    expect(refused.err).toContain("ratio, failures, looks would differ");
    const amended = await planned(...ARMS, "--ratio", "2", "--amend", "too long else");
    expect(amended).toMatchObject({ did: "amended" });
    expect(amended.protocol!.amendments).toMatchObject([
      { on: "2026-01-15", reason: "too long else", before: { ratio: 1.5 } },
    ]);
    const newList = await runProgram(
      folder,
      "trial",
      "plan",
      "--arms",
      "tight=2-4,wide=5-7",
      "--seed",
      "8",
      "--amend",
      "x",
    );
    expect(newList).toMatchObject({ status: 2, err: expect.stringContaining("Cannot change the seed") });
    expect(await planned(...ARMS, "--name", "other")).toMatchObject({ did: "written", name: "other" });
  });

  it("trusts no protocol that was changed by hand", async () => {
    const { kept } = await planned(...ARMS);
    writeFileSync(kept!, readFileSync(kept!, "utf8").replace(/failures: \d+/, "failures: 5"));
    const ran = await runProgram(folder, "trial", "assign", "--builds", "4");
    expect(ran).toMatchObject({ status: 1, out: "" });
    expect(ran.err).toContain('it was changed since "framelife trial plan" wrote it');
  });

  it("assigns the same list each time, in whole blocks half and half, and prints no blocks on the sheet", async () => {
    await planned(...ARMS);
    const list = TrialAssignAnswerSchema.parse(await json("assign", "--builds", "40")) as TrialAssignAnswer;
    expect(list.builds).toHaveLength(80);
    const shorter = (await json("assign", "--builds", "10")) as TrialAssignAnswer;
    for (const build of shorter.builds) expect(list.builds).toContainEqual(build);
    const whole = new Map<string, string[]>();
    for (const { stratum, block, assigned } of list.builds) {
      whole.set(`${stratum} ${block}`, [...(whole.get(`${stratum} ${block}`) ?? []), assigned]);
    }
    const last = Math.max(...list.builds.map(({ block }) => block));
    for (const [key, arms] of whole) {
      if (arms.length < 4 || key.endsWith(` ${last}`) || key.endsWith(` ${last - 1}`)) continue;
      expect(arms.filter((arm) => arm === "tight")).toHaveLength(arms.length / 2);
    }
    const sheet = await runProgram(folder, "trial", "assign", "--builds", "2", "--csv", "list.csv");
    expect(sheet.out).toMatch(/1-001 +saltmere, BF-60 +(tight +2 to 4|wide +5 to 7) thou +_{10} +_{10}/);
    expect(sheet.out).toContain("isolate, lock out, tag and prove dead");
    expect(sheet.out).toContain("enters the trial where its frame is of a stratum and gets new drive end bearings");
    expect(sheet.out).toContain("framelife trial read --name trial --from FILE");
    const [, sql] = /framelife query "([^"]+)"/.exec(sheet.out)!;
    expect(await runProgram(folder, "query", sql!)).toMatchObject({ status: 0 });
    expect(readFileSync(join(folder, "list.csv"), "utf8")).toMatch(
      /^build,stratum,block,assigned,low,high,unit,built,time,status\r\n1-001,"saltmere, BF-60",1,/,
    );
  });

  it.each([
    {
      args: ["plan", "--arms", "tight=1-4,wide=5-7", "--seed", "7"],
      says: "goes outside the window, 2 to 7 thou (maker's manual)",
    },
    { args: ["plan", "--arms", "tight=2-4,wide=3-7", "--seed", "7"], says: "overlap; choose bands apart" },
    { args: ["plan", "--arms", "tight=2-4", "--seed", "7"], says: "give two names with their bands" },
    { args: ["plan", "--arms", "tight=4-2,wide=5-7", "--seed", "7"], says: "give two names with their bands" },
    { args: ["plan", "--arms", "tight=2-4,wide=5-7"], says: "required option '--seed <number>'" },
    { args: ["plan", ...ARMS, "--ratio", "1"], says: "give a number above 1 and below 10" },
    { args: ["plan", ...ARMS, "--looks", "0"], says: "give a whole number from 1 to 10" },
    { args: ["plan", ...ARMS, "--blocks", "3"], says: "give even numbers" },
    { args: ["plan", ...ARMS, "--fleet", "ostrel"], says: 'Cannot answer for fleet "ostrel"' },
    { args: ["plan", ...ARMS, "--amend", "x"], says: 'Cannot amend trial "trial": there is no' },
    { args: ["plan", ...ARMS, "--name", "../x"], says: "give lower-case letters" },
    { args: ["plan", ...ARMS, "--amend", "x", "--try"], says: "--try keeps none" },
    { args: ["plan", ...ARMS, "--amend", " "], says: "--amend needs a reason" },
    { args: ["assign"], says: "required option '--builds <number>'" },
    { args: ["read", "--from", "a.csv", "--earlier", "5"], says: "Cannot use --earlier" },
    { args: ["read", "--from", "a.csv", "--earlier", "5,5"], says: "give whole numbers in rising order" },
    {
      args: ["read", "--from", "a.csv", "--name", "trial", "--planned", "9"],
      says: "Cannot use --planned with --name",
    },
    { args: ["read", "--from", "a.csv", "--fleet", "saltmere"], says: "unknown option '--fleet'" },
    { args: ["read"], says: "required option '--from <file>'" },
    { args: [], says: "Usage: framelife trial" },
  ])("refuses $args with status 2", async ({ args, says }) => {
    const ran = await runProgram(folder, "trial", ...args);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
  });
});

// Weeks in remission under 6-MP and placebo, + still in remission: Freireich et al. 1963, Blood 21:699-716
const MP = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+";
const PLACEBO = "1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23";

/** The trial as a table, in three strata by turns. */
function remissions(built = (arm: string, _: number) => arm): string {
  const rows = [MP, PLACEBO].flatMap((text, arm) =>
    text.split(" ").map((life, at) => {
      const name = arm === 0 ? "mp" : "placebo";
      return `${name}${at},${name},${built(name, at)},${Number.parseInt(life, 10)},${life.endsWith("+") ? 0 : 1},${"xyz"[at % 3]}`;
    }),
  );
  return `build,assigned,built,time,status,stratum\n${rows.join("\n")}\n`;
}

/** A line of the list with unit, reading, time and status; every fifth is not built yet, the first missed its band. */
function filledIn(line: string, at: number): string {
  if (at % 5 === 4) return line;
  const tight = line.includes(",tight,");
  const inBand = tight ? 3.1 : 6.2;
  const time = 100 + ((at * 37) % 50) + (tight ? 60 : 0);
  return line.replace(/,,,,$/, `,U${at},${at === 0 ? 4.5 : inBand},${time},${Number(at % 8 === 0)}`);
}

describe("framelife trial read", () => {
  it("gives the log-rank test, stratified as assigned, and the ratio of lives", async () => {
    const path = table("remissions.csv", remissions());
    const answer = await read("--from", path);
    // R 4.2.2, survival 3.5-3: survdiff(Surv(time, status) ~ arm + strata(stratum)), its chi-square 15.1816069949
    expectAgreement(answer.asAssigned.p, 9.76499477626e-5, { rel: 1e-8 });
    expectAgreement(answer.asAssigned.arms[0]!.expected, 18.98518981019, { rel: 1e-8 });
    // R: exp(-coef of coxph(... ~ arm + strata(stratum)) * scale of survreg(... ~ arm)), 1.51395740414 * 0.73219440304
    expectAgreement(answer.asAssigned.lifeRatio.estimate, 3.02984401424, { rel: 1e-6 });
    expect(answer).toMatchObject({ verdict: "longer", arms: ["mp", "placebo"], allowed: expect.closeTo(0.05, 12) });
    expect(answer.asAssigned.lifeRatio.low).toBeGreaterThan(1);
    expect(answer.answer).toMatch(
      /^At 30 failures builds assigned mp last 3\.03 times \(.+\) as long as those assigned placebo: longer/,
    );
    expect(answer.warnings[0]).toContain("taken as the only look");
  });

  it("holds a look against the bound that the looks before it leave", async () => {
    const path = table("remissions.csv", remissions());
    // R: 2 * pnorm(-2.511) of the published second bound of three; 30 of 45 failures after 15
    const second = await read("--from", path, "--planned", "45", "--earlier", "15");
    expectAgreement(second.allowed, 0.01204, { rel: 0.003 });
    expect(second.verdict).toBe("longer");
    // R: 2 * pnorm(-3.710), the first of three: p 0.0000976 stops at it; 30 of 300 is too early for that
    const printed = await runProgram(folder, "trial", "read", "--from", path, "--planned", "45", "--earlier", "15");
    // By hand: 100 (1 - 0.01204), and the level of all looks
    expect(printed.out).toMatch(/Limits: 98\.79\d* % at this look, so that all looks together hold 95 %\./);
    expect(second.warnings.join("\n")).toContain("a trial that stops before all its failures are seen overstates");
    const first = await read("--from", path, "--planned", "90");
    expectAgreement(first.allowed, 0.000207, { rel: 0.01 });
    expect(first.verdict).toBe("longer");
    const early = await read("--from", path, "--planned", "300");
    expect(early.verdict).toBe("go on");
    expect(early.warnings.join("\n")).not.toContain("overstates");
    expect(early.warnings.join()).toContain("nobody who builds or judges removals should see this");
    const over = await read("--from", path, "--planned", "20", "--earlier", "20");
    expect(over).toMatchObject({ allowed: null, reason: "earlier looks have spent all of the error" });
    expect(over.answer).toContain("earlier looks have spent all of the error");
    // wider where more is asked
    expect(first.asAssigned.lifeRatio.low).toBeLessThan(second.asAssigned.lifeRatio.low!);
    const refused = await runProgram(folder, "trial", "read", "--from", path, "--planned", "90", "--earlier", "30");
    expect(refused).toMatchObject({ status: 2, err: expect.stringContaining("shows nothing new") });
  });

  it("finds p by re-randomisation within blocks where failures are few", async () => {
    const four = (block: string) =>
      table(
        "four.csv",
        `build,assigned,built,time,status${block === "" ? "" : ",block"}\n1,a,a,1,1${block}\n2,a,a,2,1${block}\n3,b,b,3,1${block}\n4,b,b,4,1${block}\n`,
      );
    const answer = await read("--from", four(",1"));
    // By hand: of the 6 orders of two and two, the one seen and its reverse are as extreme
    expectAgreement(answer.asAssigned.p, 1 / 3, { rel: 1e-12 });
    expect(answer).toMatchObject({ asAssigned: { by: "re-randomisation" }, verdict: "no difference shown" });
    const without = await read("--from", four(""));
    expect(without.asAssigned.by).toBe("log-rank");
    expect(without.warnings.join()).toContain("no blocks on record: p is rough");
  });

  it("counts builds that missed their band, and sets them apart as built", async () => {
    const missed = remissions((arm, at) => (arm === "mp" && at < 3 ? "placebo" : at === 20 ? "" : arm));
    const answer = await read("--from", table("missed.csv", missed));
    expect(answer.missed).toEqual([
      { arm: "mp", builds: 3, of: 20 },
      { arm: "placebo", builds: 0, of: 20 },
    ]);
    expectAgreement(answer.asAssigned.p, 9.76499477626e-5, { rel: 1e-8 });
    expect(answer.asBuilt).toMatchObject({ arms: [{ builds: 17 }, { builds: 23 }] });
    expect(answer.answer).toContain("3 of 40 builds did not come out as assigned.");
    expect(answer.warnings.join()).toContain("many builds assigned mp missed it");
    const crossed = remissions((arm) => (arm === "mp" ? "placebo" : "mp"));
    const mixed = await read("--from", table("crossed.csv", crossed));
    expect(mixed.warnings.join()).toContain(
      "42 of 42 builds came out in the other band than the one that they fell to",
    );
    expect(mixed.warnings.join()).not.toContain("more alike");
  });

  it("reads the filled-in list by the protocol, with bands and blocks from there", async () => {
    rmSync(join(folder, "trials"), { recursive: true, force: true });
    await planned(...ARMS, "--ratio", "2");
    await runProgram(folder, "trial", "assign", "--builds", "20", "--csv", "list.csv");
    const [header, ...lines] = readFileSync(join(folder, "list.csv"), "utf8").trim().split("\r\n");
    const whole = [header, ...lines.map(filledIn)].join("\n");
    const answer = await read("--from", table("filled.csv", whole), "--name", "trial");
    expect(answer).toMatchObject({
      arms: ["tight", "wide"],
      basis: { lives: 32, failed: 4, leftOut: { not_built: 8 } },
    });
    expect(answer.asAssigned.by).toBe("re-randomisation");
    expect(answer.missed.reduce((sum, { builds }) => sum + builds, 0)).toBe(1);
    expect(answer.planned).toBeGreaterThan(20);
    // Line 5 of the first stratum and others before the last built are blank; so they were opened or passed over.
    expect(answer.warnings.join("\n")).toMatch(
      /\d lines that were opened or passed over have no time \(such as 1-005, /,
    );
    const inMm = whole.replaceAll(",3.1,", ",0.079,").replaceAll(",6.2,", ",0.157,").replace(",4.5,", ",0.114,");
    const other = await read("--from", table("mm.csv", inMm), "--name", "trial");
    expect(other.warnings.join("\n")).toContain(
      "32 of 32 builds were read outside both bands (0.079 to 0.157): readings under built are taken in thou",
    );
    expect(other.warnings.join("\n")).toContain("32 builds came out in neither band and are not compared as built");
    const swapped = whole.replace(/,(tight|wide),/, (_, arm: string) => (arm === "tight" ? ",wide," : ",tight,"));
    const refused = await runProgram(
      folder,
      "trial",
      "read",
      "--from",
      table("swapped.csv", swapped),
      "--name",
      "trial",
    );
    expect(refused).toMatchObject({ status: 1, err: expect.stringMatching(/build "1-001" fell to \w+ by the list/) });
    const strange = await runProgram(
      folder,
      "trial",
      "read",
      "--from",
      table("strange.csv", whole.replace("1-002", "9-002")),
      "--name",
      "trial",
    );
    expect(strange).toMatchObject({ status: 1, err: expect.stringContaining('build "9-002" is not on the list') });
  });

  const rows = (...lines: string[]) => `build,assigned,built,time,status\n${lines.join("\n")}\n`;

  it.each([
    { name: "no failures", text: rows("1,a,a,5,0", "2,b,b,6,0"), says: "no p, for" },
    {
      name: "all failures in one arm",
      text: rows("1,a,a,5,1", "2,a,a,6,1", "3,b,b,9,0", "4,b,b,9,0"),
      says: "can't be set against each other",
    },
  ])("says so: $name", async ({ text, says }) => {
    const answer = await read("--from", table("hostile.csv", text));
    expect(answer.answer).toContain(says);
    expect(answer.verdict).toBe("no difference shown");
  });

  it.each([
    { name: "one arm", text: rows("1,a,a,5,1", "2,a,a,6,0"), says: 'assigned must name two arms, found "a"' },
    { name: "three arms", text: rows("1,a,a,5,1", "2,b,b,6,0", "3,c,c,6,0"), says: "must name two arms" },
    { name: "a build twice", text: rows("1,a,a,5,1", "1,b,b,6,0"), says: 'build "1" stands twice' },
    { name: "no build", text: rows(",a,a,5,1"), says: "row 1: build must not be blank" },
    { name: "nothing assigned", text: rows("1,,a,5,1"), says: "row 1: assigned must not be blank" },
    {
      name: "text in time",
      text: rows("1,a,a,5 h,1"),
      says: 'row 1: time must be a number above 0, or blank with the status where nothing was built yet, found "5 h"',
    },
    { name: "a time without a status", text: rows("1,a,a,5,"), says: "row 1: status must be 1 or failed" },
    { name: "a status without a time", text: rows("1,a,a,,1"), says: "row 1: time must be a number" },
    {
      name: "a reading without bands",
      text: rows("1,a,3.2,5,1", "2,b,b,6,0"),
      says: "a reading needs the bands of a protocol (--name)",
    },
    {
      name: "a header twice",
      text: "build,assigned,assigned,built,time,status\n1,a,b,a,5,1\n",
      says: "stands over more than one column",
    },
    { name: "an empty file", text: "", says: "the file is empty" },
    {
      name: "no built",
      text: "build,assigned,time,status\n1,a,5,1\n",
      says: "it needs build, assigned, built, time and status",
    },
  ])("refuses with status 1: $name", async ({ text, says }) => {
    const ran = await runProgram(folder, "trial", "read", "--from", table("broken.csv", text));
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
  });

  it("prints both comparisons and writes them to a CSV file", async () => {
    const ran = await runProgram(folder, "trial", "read", "--from", table("r.csv", remissions()), "--csv", "out.csv");
    expect(ran.out).toMatch(/arm\s+builds\s+failed\s+expected were they alike\s+ratio of lives\s+p by log-rank/);
    expect(ran.out).toContain("As built");
    expect(readFileSync(join(folder, "out.csv"), "utf8").trim().split("\r\n")).toHaveLength(5);
  });
});
