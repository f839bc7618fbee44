import { describe, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder } = temporaryTables();

describe("an option with a value that is given twice", () => {
  it.each([
    {
      args: ["life", "--where", "lube = 'grease'", "--where", "model = 'BF-60'"],
      says: `Cannot use --where twice: found "lube = 'grease'" and "model = 'BF-60'"; join the conditions with "and"`,
    },
    {
      args: ["intervals", "--fleet", "saltmere", "--fleet", "ostrel"],
      says: 'Cannot use --fleet twice: found "saltmere" and "ostrel"; leave one out',
    },
    {
      args: ["life", "--by", "lube", "--by=site"],
      says: 'Cannot use --by twice: found "lube" and "site"; separate its columns with commas',
    },
    { args: ["gauge", "plan", "--frames", "5", "--frames", "6"], says: "Cannot use --frames twice" },
    { args: ["--workspace", "a", "--workspace", "b", "life"], says: "Cannot use --workspace twice" },
  ])("is refused, since the first would be lost: $args", async ({ args, says }) => {
    const ran = await runProgram(folder, ...args);
    expect(ran).toMatchObject({ status: 2, out: "" });
    expect(ran.err).toContain(says);
  });

  it("is not refused where it has none: that says the same", async () => {
    const ran = await runProgram(folder, "gauge", "plan", "--json", "--json");
    expect(ran).toMatchObject({ status: 0, err: "" });
  });
});
