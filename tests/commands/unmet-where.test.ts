import { expect, it } from "vitest";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

const lives = "time,status,site\n10,1,a\n20,1,b\n";
const visits = "unit,time,event,site\nu1,5,1,a\nu1,9,0,a\nu2,4,1,b\nu2,8,0,b\n";
const counts = "unit,events,exposure,site\nu1,3,4000,a\nu2,1,4000,b\n";
const readings = "value,site\n3,a\n4,b\n";

it.each([
  { command: ["life"], text: lives },
  { command: ["compare", "site"], text: lives },
  { command: ["intervals"], text: visits },
  { command: ["offenders"], text: counts },
  { command: ["bench"], text: readings },
])("framelife $command.0 says what a column holds where nothing meets a condition on it", async ({ command, text }) => {
  const from = table(`${command[0]}.csv`, text);
  const ran = await runProgram(folder, ...command, "--from", from, "--where", "site = 'c'", "--json");
  expect(ran.err).toBe("");
  const { warnings } = JSON.parse(ran.out) as { warnings: string[] };
  expect(warnings).toContainEqual(
    `nothing in question meets --where "site = 'c'"; on record, whatever the fleet and slot: site holds a and b`,
  );
});
