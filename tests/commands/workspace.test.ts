import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function takeValveSeats(): void {
  cpSync(fileURLToPath(new URL("../reference/valve-seats", import.meta.url)), folder, { recursive: true });
}

describe("framelife init", () => {
  const card =
    "Card,Frame,Position,Model,Removed,Installed,Meter,Reason,End play,Lube,Drive-end bearings new,Drive-end bearings found,Pump-end bearing new,Pump-end bearing found,Drive-end seals new,Drive-end seals found,Pump-end seals new,Pump-end seals found";

  it("makes a workspace that reads a card written as its pipeline says", async () => {
    expect(await runProgram(folder, "init", "shop")).toMatchObject({ status: 0, err: "" });
    const row = "1,F1,P1,M,2024-03-01,2024-03-05,1200,failed,4,oil,yes,failed,yes,good,yes,good,no,good";
    writeFileSync(join(folder, "shop/exports/cards.csv"), `${card}\n${row}\n`);
    const ran = await runProgram(join(folder, "shop"), "run");
    expect(ran).toMatchObject({ status: 0, err: "" });
    const rows = await runProgram(
      join(folder, "shop"),
      "query",
      "select unit, reason, end_play_mm from records.rebuild",
      "--json",
    );
    expect(JSON.parse(rows.out)).toEqual([{ unit: "F1", reason: "failure", end_play_mm: 0.1016 }]); // 4 thou of 0.0254 mm: NIST SP 811
  });

  it("writes over nothing", async () => {
    writeFileSync(join(folder, "framelife.yaml"), "mine");
    const ran = await runProgram(folder, "init");
    expect(ran.status).toBe(1);
    expect(ran.err).toContain("framelife.yaml is there already");
    expect(readFileSync(join(folder, "framelife.yaml"), "utf8")).toBe("mine");
    expect(readdirSync(folder)).toEqual(["framelife.yaml"]);
  });
});

describe("framelife ingest", () => {
  it("reads again without changing anything", async () => {
    takeValveSeats();
    const first = await runProgram(folder, "ingest");
    const kept = await runProgram(folder, "query", "select * from records.rebuild_row order by all", "--json");
    const second = await runProgram(folder, "ingest");
    expect(first.out).toContain("89 rows in 2 files: 89 became records, 0 are in quarantine");
    expect(second.out).toContain("2 files were as before");
    expect((await runProgram(folder, "query", "select * from records.rebuild_row order by all", "--json")).out).toBe(
      kept.out,
    );
  });

  it("reads by a corrected mapping also what an older state of the file has told", async () => {
    takeValveSeats();
    const pipeline = join(folder, "pipelines/replacements.yaml");
    const file = join(folder, "exports/replacements.csv");
    const mapping = (unit: string) =>
      readFileSync(pipeline, "utf8").replace(/slots:/, `  end_play: { value: 5, unit: ${unit} }\nslots:`);
    const right = mapping("thou");
    writeFileSync(pipeline, mapping("mm"));
    await runProgram(folder, "ingest");
    writeFileSync(file, `${readFileSync(file, "utf8")}R99,251,2000-03-01\n`);
    await runProgram(folder, "ingest");
    writeFileSync(pipeline, right);
    expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0, err: "" });
    const ran = await runProgram(
      folder,
      "query",
      "select end_play_mm, count(*) n from records.rebuild group by all",
      "--json",
    );
    expect(JSON.parse(ran.out)).toEqual([{ end_play_mm: 0.127, n: 49 }]); // 5 thou of 0.0254 mm: NIST SP 811
  });

  it("reads again what a fleet missing from the configuration had kept out", async () => {
    takeValveSeats();
    const configuration = join(folder, "framelife.yaml");
    const pipeline = join(folder, "pipelines/replacements.yaml");
    const file = join(folder, "exports/replacements.csv");
    const text = readFileSync(configuration, "utf8");
    writeFileSync(
      pipeline,
      readFileSync(pipeline, "utf8").replace("fleet: { value: engines }", "fleet: { column: Fleet }"),
    );
    writeFileSync(file, "Card,Engine,Replaced on,Fleet\nR1,327,2000-04-08,boats\n");
    await runProgram(folder, "ingest");
    writeFileSync(configuration, text.replace("fleets:", "fleets:\n  - { name: boats, title: Boats }"));
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "query", "select fleet from records.rebuild", "--json");
    expect(JSON.parse(ran.out)).toEqual([{ fleet: "boats" }]);
  });

  it("names the pipelines where one is asked for that is not there", async () => {
    takeValveSeats();
    const ran = await runProgram(folder, "ingest", "motors");
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("engines, replacements");
  });
});

describe("framelife query", () => {
  it.each([
    "delete from records.rebuild_row",
    "create table mine as select 1",
    "select * from read_csv('/etc/passwd')",
    "copy (select 1) to 'out.csv'",
    "attach 'other.duckdb'",
    "set enable_external_access = true",
    "select 1; select 2",
  ])("refuses what would write or reach outside: %s", async (sql) => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "query", sql);
    expect(ran.status).toBe(1);
    expect(ran.err).toContain("Cannot answer the query");
    expect(existsSync(join(folder, "out.csv"))).toBe(false);
  });

  it("traces a life to the rows of its export", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const sql =
      "select f.path, l.stop_row from life l join landing.file f on f.file_id = l.stop_file where unit = '327' and status = 'failed'";
    const ran = await runProgram(folder, "query", sql, "--json");
    const lines = readFileSync(join(folder, "exports/replacements.csv"), "utf8").split("\n");
    expect(JSON.parse(ran.out)).toEqual([
      { path: "exports/replacements.csv", stop_row: lines.findIndex((line) => line.includes(",327,")) + 1 },
    ]);
  });
});

describe("framelife report and run", () => {
  it("keep the answers in the store by run alone", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    expect(await runProgram(folder, "report", "--out", "pages", "--backtest")).toMatchObject({ status: 0, err: "" });
    const count = "select count(*)::integer as kept from results.answer";
    expect(JSON.parse((await runProgram(folder, "query", count, "--json")).out)).toEqual([{ kept: 0 }]);
    const ran = await runProgram(folder, "run");
    expect(JSON.parse((await runProgram(folder, "query", count, "--json")).out)).toEqual([{ kept: 4 }]);
    expect(ran.out.split("\n")[0]).toMatch(/^Valve seat at Diesel engines: 10 % have failed by/);
    expect(existsSync(join(folder, "pages/fleet-engines.html"))).toBe(true);
    expect(existsSync(join(folder, "pages/offenders-engines.html"))).toBe(true);
    expect(existsSync(join(folder, "report/index.html"))).toBe(true);
    // What the shop will use, and how past forecasts did where that is asked for
    expect(ran.out).toMatch(/^Over the next 12 months [\d.]+ \(\d+ to \d+\) frames will be opened, which take/m);
    const spares = (pages: string) => readFileSync(join(folder, pages, "spares.html"), "utf8");
    expect(spares("report")).toContain("framelife report --backtest");
    expect(spares("pages")).not.toContain("framelife report --backtest");
    expect(spares("pages")).toMatch(/<li>No past forecast can be held against what was used: records from/);
    expect(readdirSync(join(folder, "pages"))).toEqual(
      expect.arrayContaining(["spares-order.csv", "spares-order.xlsx"]),
    );
  });
});

describe("framelife life and intervals", () => {
  it("warn of an as-of date long after the latest record", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "life", "--as-of", "2005-12-31");
    // By hand: the latest record is the engine last looked at on day 761, 2002-01-31; 2005-12-31 is 1430 days later
    expect(ran.out).toContain("the as-of date lies 1430 days after the latest record (2002-01-31)");
  });

  it("name no group that has fewer than five failures", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "intervals", "--by", "unit");
    expect(ran.out.split("\n")[0]).toBe(
      "Diesel engines, fewer than 5 failures on record for each of 41 groups: too few to name one.",
    );
    expect(ran.out).toContain("of 41 groups the worst is partly the unluckiest");
  });

  it.each(["status", "damage_mode", "ended_by"])(
    "do not group lives by %s, known only when they have ended",
    async (column) => {
      takeValveSeats();
      await runProgram(folder, "ingest");
      const ran = await runProgram(folder, "life", "--by", column);
      expect(ran.status).toBe(2);
      expect(ran.err).toContain("known only when a life has ended");
      const picked = await runProgram(folder, "life", "--where", `${column} is not null`);
      expect(picked.out).toContain(`--where picks by ${column}`);
    },
  );

  it("write pages where an absolute path says, remove what they no longer make, and never write among other files", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const pages = join(folder, "elsewhere", "pages");
    expect(await runProgram(folder, "report", "--out", pages)).toMatchObject({ status: 0, err: "" });
    expect(existsSync(join(pages, "index.html"))).toBe(true);
    // As an earlier report left them that knew of a fleet more; and a page that somebody put there.
    const listed = JSON.parse(readFileSync(join(pages, "assets", "pages.json"), "utf8"));
    writeFileSync(join(pages, "assets", "pages.json"), JSON.stringify([...listed, "fleet-gone.html"]));
    for (const name of ["fleet-gone.html", "mine.html"]) writeFileSync(join(pages, name), name);
    expect(await runProgram(folder, "report", "--out", pages)).toMatchObject({ status: 0, err: "" });
    const left = ["index.html", "fleet-gone.html", "mine.html"].filter((name) => existsSync(join(pages, name)));
    expect(left).toEqual(["index.html", "mine.html"]);
    expect(JSON.parse(readFileSync(join(pages, "assets", "pages.json"), "utf8"))).toEqual(listed);
    const refused = await runProgram(folder, "report", "--out", "exports");
    expect(refused.status).toBe(1);
    expect(refused.err).toContain("it holds something else");
  });

  it("do not set fitters against each other", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "life", "--by", "fitter");
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("do not set people against each other");
  });

  it("blame the condition where its values can't be compared", async () => {
    takeValveSeats();
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "life", "--where", "days > unit || 'x'");
    expect(ran.status).toBe(2);
    expect(ran.err).toContain("Cannot use --where");
  });
});

describe("framelife simulate", () => {
  it("refuses a seed that is no whole number", async () => {
    const ran = await runProgram(folder, "simulate", "scenario.yaml", "--seed", "1.5", "--out", "made");
    expect(ran.status).toBe(2);
  });
});
