import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "../ingest/scratch-workspace.ts";
import { runProgram } from "./run-program.ts";

const card = (number: number) => `${number},FA-${number},13/02/2023,15/02/2023,10,failed,5,Y,bad`;

function workspace(rows: number): ScratchWorkspace {
  const cards = [CARD_HEADER, ...Array.from({ length: rows }, (_, number) => card(number)), ""].join("\n");
  return new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards });
}

describe("--memory", () => {
  it.each([
    ["2", "before"],
    ["lots", "before"],
    ["0MB", "after"],
    ["-1GB", "after"],
  ])("refuses %j, given %s the command, as wrong usage", async (size, place) => {
    const args = place === "before" ? [`--memory=${size}`, "audit"] : ["audit", `--memory=${size}`];
    const ran = await runProgram(workspace(1).folder, ...args);
    expect(ran).toMatchObject({ status: 2, out: "" });
    expect(ran.err).toContain(`'${size}' is invalid. give a number and its unit, as in 500MB, 2GB or 1.5GiB`);
  });

  it("reaches the engine of commands that read, and of one that answers from a plain table", async () => {
    const { folder } = workspace(3);
    expect((await runProgram(folder, "ingest", "--memory", "300MB")).status).toBe(0);
    const asked = ["query", "select current_setting('memory_limit') as m", "--json", "--memory", "300MB"];
    // 300,000,000 / 1,048,576 = 286.1
    expect(JSON.parse((await runProgram(folder, ...asked)).out)).toEqual([{ m: "286.1 MiB" }]);
    const table = await runProgram(folder, ...asked, "--from", "exports/cards.csv");
    expect(JSON.parse(table.out)).toEqual([{ m: "286.1 MiB" }]);
  });

  it("says that it is too little, whichever command needs more, and the store is as it was", async () => {
    const small = workspace(3);
    await runProgram(small.folder, "ingest");
    small.write(
      "exports/cards.csv",
      [CARD_HEADER, ...Array.from({ length: 30_000 }, (_, at) => card(at)), ""].join("\n"),
    );
    for (const args of [
      ["ingest"],
      ["audit"],
      ["map", "exports/cards.csv"],
      ["query", "from range(9000000) order by hash(range)"],
    ]) {
      const ran = await runProgram(small.folder, ...args, "--memory", "2MB");
      expect(ran, args[0]).toMatchObject({ status: 1, out: "" });
      expect(ran.err, args[0]).toMatch(
        /^Cannot go on: .*memory limit of 1\.9 MiB, of which .* was taken; give it more with --memory, as in --memory 2GB\n$/,
      );
    }
    const held = await runProgram(
      small.folder,
      "query",
      "select count(*)::integer as n from records.rebuild",
      "--json",
    );
    expect(JSON.parse(held.out)).toEqual([{ n: 3 }]);
    expect(readdirSync(join(small.folder, "store")).sort()).toEqual(["exports", "framelife.duckdb"]);
  });

  it("what a killed process put aside goes with the next ingest", async () => {
    const { folder } = workspace(3);
    const left = join(folder, "store/framelife.duckdb.spill-123-0123456789ab");
    mkdirSync(left, { recursive: true });
    writeFileSync(join(left, "duckdb_temp_storage_DEFAULT-0.tmp"), "x");
    expect((await runProgram(folder, "ingest")).status).toBe(0);
    expect(readdirSync(join(folder, "store")).sort()).toEqual(["exports", "framelife.duckdb"]);
  });
});
