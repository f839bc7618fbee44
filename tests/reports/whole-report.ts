import { fleetInShort, registerInShort } from "../../reports/fleet-in-short.ts";
import type { ReportInput } from "../../reports/report-input.ts";
import { writeFleet, writeShared } from "../../reports/write-report.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import type { FleetRegister } from "../../src/questions/register-types.ts";

/** All that a report is made of at once, which the program itself never holds. */
export type WholeReport = Omit<ReportInput, "fleets" | "register"> & {
  fleets: FleetOverview[];
  register: ReadonlyMap<string, FleetRegister>;
};

/** Writes all pages of a report, as the program does fleet by fleet. */
export async function writeReport(
  whole: WholeReport,
  folder: string,
  options: { built?: string } = {},
): Promise<{ pages: string[]; beside: string[] }> {
  const { pages: shared, beside } = await writeShared(inShort(whole), folder, options);
  const pages: string[] = [];
  for (const fleet of whole.fleets) {
    const register = whole.register.get(fleet.name);
    pages.push(...(await writeFleet(whole, { fleet, register }, folder)));
  }
  return { pages: [...pages, ...shared], beside };
}

/** What the pages of all fleets together are given. */
function inShort(whole: WholeReport): ReportInput {
  return {
    ...whole,
    fleets: whole.fleets.map(fleetInShort),
    register: new Map([...whole.register].map(([fleet, register]) => [fleet, registerInShort(register)])),
  };
}
