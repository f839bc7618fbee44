import { CommanderError } from "commander";
import { describe, expect, it } from "vitest";
import { explainFailure } from "../../src/commands/explain-failure.ts";
import { UserError } from "../../src/errors.ts";

const full = Object.assign(new Error("ENOSPC: no space left on device, write"), { code: "ENOSPC" });

describe("explainFailure()", () => {
  it.each([
    { error: new UserError("Cannot do it: why; remedy", 3), status: 3, says: /^Cannot do it: why; remedy$/ },
    {
      error: full,
      status: 1,
      says: /^Cannot go on: the system says ENOSPC: no space left on device, write; see to that/,
    },
    { error: new Error('IO Error: Could not write "x": No space left on device'), status: 1, says: /^Cannot go on/ },
    { error: new TypeError("x is not a function"), status: 1, says: /a fault of the program: x is not a function/ },
    { error: "text", status: 1, says: /a fault of the program: text/ },
  ])("gives status $status and says $says", ({ error, status, says }) => {
    const explained = explainFailure(error, false);
    expect(explained.status).toBe(status);
    expect(explained.says).toMatch(says);
    expect(explained.says).not.toContain("\n");
  });

  it("says nothing after commander, whose usage errors are status 2 and whose help is 0", () => {
    expect(explainFailure(new CommanderError(1, "commander.unknownOption", "x"), false)).toEqual({
      status: 2,
      says: null,
    });
    expect(explainFailure(new CommanderError(0, "commander.helpDisplayed", "x"), false)).toEqual({
      status: 0,
      says: null,
    });
  });

  it("shows where an error arose with --debug", () => {
    expect(explainFailure(full, true).says).toContain("explain-failure.test.ts");
  });
});
