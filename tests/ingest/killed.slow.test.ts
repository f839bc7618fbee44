import { once } from "node:events";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { builtProgram } from "./built-program.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const program = builtProgram();
const FILES = 6;
const ROWS = 400;

/** An export of cards; each round moves every meter, so that all cards are new versions. */
function cards(file: number, round: number): string {
  const rows = Array.from({ length: ROWS }, (_, index) => {
    const number = file * ROWS + index;
    return `${number},FA-${number},13/02/2023,15/02/2023,${1000 + round},failed,5,Y,bad`;
  });
  return [CARD_HEADER, ...rows, ""].join("\n");
}

const ACCOUNTS = `select path, rows_read, not_data + quarantined + duplicate + superseded + corrected + accepted as sum
  from landing.account where rows_read <> sum`;
const TWICE =
  "select card from records.rebuild_row where standing = 'current' and not barred group by card having count(*) > 1";

describe("an ingest that is killed", () => {
  it("at any of 50 moments leaves a store that opens and balances, and the next run completes it", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS });
    const write = (round: number) => {
      for (let file = 0; file < FILES; file++) workspace.write(`exports/cards-${file}.csv`, cards(file, round));
    };
    write(0);
    const begun = performance.now();
    expect(program.run(workspace.folder, "ingest", "--quiet").status).toBe(0);
    const whole = performance.now() - begun;
    const random = xoroshiro128plus(20_230_213);
    let killed = 0;
    for (let round = 1; round <= 50; round++) {
      write(round);
      const child = program.start(workspace.folder, "ingest", "--quiet");
      const ended = once(child, "exit");
      await Promise.race([ended, pause(uniformFloat64(random) * whole)]);
      if (child.kill("SIGKILL")) killed++;
      await ended;
      const store = await openStore(join(workspace.folder, "store/framelife.duckdb"), "read");
      try {
        expect(await rows(store.connection, ACCOUNTS), `round ${round}`).toEqual([]);
        expect(await rows(store.connection, TWICE), `round ${round}`).toEqual([]);
        const held = await rows(store.connection, "select count(*)::integer as n from records.rebuild");
        expect(held, `round ${round}`).toEqual([{ n: FILES * ROWS }]);
      } finally {
        store.close();
      }
    }
    expect(killed).toBeGreaterThan(25);
    expect(program.run(workspace.folder, "ingest", "--quiet").status).toBe(0);
    const meters = "select distinct hours_removed as hours from records.rebuild";
    expect(await workspace.rows(meters)).toEqual([{ hours: 1050 }]);
    const left = readdirSync(join(workspace.folder, "store/exports")).filter(
      (name) => !/^[0-9a-f]{64}\.br$/.test(name),
    );
    expect(left, "temporary copies of runs that were killed").toEqual([]);
  });
});
