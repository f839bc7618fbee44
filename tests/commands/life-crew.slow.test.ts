import { spawnSync } from "node:child_process";
import { availableParallelism } from "node:os";
import { expect, it } from "vitest";
import { packageFile } from "../../src/workspace/package-file.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

const SHOPS = Array.from({ length: 24 }, (_, shop) => `Shop ${shop + 1}`);

/** Ten lives of each shop, three of them still running, at ages that differ from shop to shop. */
function manyShops(): string {
  const rows = SHOPS.flatMap((shop, at) =>
    Array.from(
      { length: 10 },
      (_, life) => `${300 + 97 * life + 31 * at + ((life * at) % 7)},${life % 3 === 0 ? 0 : 1},${shop}`,
    ),
  );
  return table("shops.csv", ["time,status,site", ...rows].join("\n"));
}

it.each([
  ["--interval", "bootstrap"],
  ["--mission", "400"],
])("answers %s %s of many groups in threads as it does one by one", async (...asked) => {
  const path = manyShops();
  const args = ["life", "--from", path, "--by", "site", ...asked, "--json"];
  const built = spawnSync(process.execPath, [packageFile("dist/src/main.js"), ...args], {
    cwd: folder,
    encoding: "utf8",
  });
  expect(built.stderr).toBe("");
  const { groups } = JSON.parse(built.stdout);
  expect(groups).toHaveLength(SHOPS.length);
  // From its sources the program has this one thread.
  const alone = await runProgram(folder, ...args);
  expect(JSON.parse(built.stdout)).toEqual(JSON.parse(alone.out));
  expect(availableParallelism(), "a machine with one core has no other thread to compare").toBeGreaterThan(1);
});
