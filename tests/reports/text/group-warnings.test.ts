import { describe, expect, it } from "vitest";
import { groupWarnings } from "../../../reports/text/group-warnings.ts";

describe("groupWarnings()", () => {
  const seals = { title: "Seals", warnings: ["few", "wide"] };
  const sleeve = { title: "Sleeve", warnings: ["few"] };

  it("says a warning of all groups once, and names the group of another", () => {
    expect(groupWarnings([seals, sleeve], "All slots")).toEqual(["All slots: few", "Seals: wide"]);
  });

  it("names a single group", () => {
    expect(groupWarnings([sleeve], "All slots")).toEqual(["Sleeve: few"]);
  });
});
