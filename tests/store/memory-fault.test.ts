import { describe, expect, it } from "vitest";
import { UserError } from "../../src/errors.ts";
import { memoryFault } from "../../src/store/memory-fault.ts";

// The engine's own words, version 1.5.6.
const LIMIT = `Out of Memory Error: failed to pin block of size 256.0 KiB (57.0 MiB/57.2 MiB used)

Possible solutions:
* Increasing the memory limit (SET memory_limit='...GB')`;
const DISK = `Out of Memory Error: failed to offload data block of size 256.0 KiB (7.0 MiB/7.1 MiB used).
This limit was set by the 'max_temp_directory_size' setting.`;
const FULL =
  'IO Error: Could not write file "/w/store/a.duckdb.spill-12-0123456789ab/duckdb_temp_storage_DEFAULT-0.tmp": No space left on device';

describe("memoryFault()", () => {
  it.each([
    {
      of: "a limit",
      error: new Error(LIMIT),
      says: /memory limit of 57\.2 MiB, of which 57\.0 MiB was taken; .*--memory 2GB$/,
    },
    {
      of: "a disk",
      error: new Error(DISK),
      says: /beside the store .*found room for 7\.1 MiB, of which 7\.0 MiB is taken; make room/,
    },
    {
      of: "a full disk",
      error: new Error(FULL),
      says: /in \/w\/store\/a\.duckdb\.spill-12-0123456789ab: the disk is full; make room/,
    },
    {
      of: "what lies behind another error",
      error: new UserError("Cannot answer the query: Out of", 1, { cause: new Error(LIMIT) }),
      says: /memory limit of 57\.2 MiB/,
    },
  ])("tells $of in one line, with a remedy", ({ error, says }) => {
    const found = memoryFault(error);
    expect(found).toBeInstanceOf(UserError);
    expect(found).toMatchObject({ status: 1 });
    expect(found?.message).toMatch(says);
    expect(found?.message).not.toContain("\n");
  });

  it.each([new Error("No space left on device"), new UserError("Cannot read x"), "text", null])(
    "has nothing to say of %s",
    (error) => expect(memoryFault(error)).toBeNull(),
  );
});
