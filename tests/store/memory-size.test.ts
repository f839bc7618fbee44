import { totalmem } from "node:os";
import { describe, expect, it } from "vitest";
import { defaultMemory, memorySize } from "../../src/store/memory-size.ts";

describe("memorySize()", () => {
  // Decimal and binary prefixes: IEC 80000-13
  it.each([
    ["2GB", 2_000_000_000],
    ["2 gb", 2_000_000_000],
    ["1.5GiB", 1_610_612_736],
    ["512MiB", 536_870_912],
    ["600 MB", 600_000_000],
    ["64KiB", 65_536],
    ["100000000B", 100_000_000],
    ["1TB", 1_000_000_000_000],
  ])("reads %j as %d bytes", (text, bytes) => expect(memorySize(text)).toBe(bytes));

  it.each(["", "2", "GB", "0MB", "-1GB", "2XB", "2G", "1e3MB", "2GB ram", ".5GB", "0.4B", "99999999TB", "50%"])(
    "refuses %j",
    (text) => expect(memorySize(text)).toBeNull(),
  );
});

describe("defaultMemory()", () => {
  it("is at most half of what the machine has", () => {
    expect(defaultMemory()).toBeGreaterThan(0);
    expect(defaultMemory()).toBeLessThanOrEqual(totalmem() / 2);
  });
});
