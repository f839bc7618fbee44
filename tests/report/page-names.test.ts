import { describe, expect, it } from "vitest";
import { fleetPage } from "../../src/report/page-names.ts";

describe("fleetPage()", () => {
  it("names the page of a fleet", () => {
    expect(fleetPage("saltmere_2")).toBe("fleet-saltmere_2.html");
  });

  it.each(["../up", "a/b", "", "a b"])("refuses %j, which is no file name", (name) => {
    expect(() => fleetPage(name)).toThrow(RangeError);
  });
});
