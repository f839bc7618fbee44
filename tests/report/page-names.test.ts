import { describe, expect, it } from "vitest";
import { dossierPage, fleetPage, offendersPage } from "../../src/report/page-names.ts";

describe("fleetPage()", () => {
  it("names the page of a fleet", () => {
    expect(fleetPage("saltmere_2")).toBe("fleet-saltmere_2.html");
  });

  it.each(["../up", "a/b", "", "a b"])("refuses %j, which is no file name", (name) => {
    expect(() => fleetPage(name)).toThrow(RangeError);
  });
});

describe("dossierPage()", () => {
  it("keeps a plain name", () => {
    expect(dossierPage("saltmere", "unit", "SM-031")).toBe("dossier-saltmere-SM-031.html");
    expect(dossierPage("saltmere", "position", "P09")).toBe("position-saltmere-P09.html");
  });

  it.each(["../../etc/passwd", "a/b\\c", "<script>", "\u0000", "", "Ü 7", ".", "x".repeat(500), "con\nnul"])(
    "makes a file name of %j",
    (id) => {
      expect(dossierPage("saltmere", "unit", id)).toMatch(/^dossier-saltmere-[A-Za-z0-9-]{0,40}_[0-9a-f]{12}\.html$/);
    },
  );

  it("gives no two the same, where a disk takes capital and small letters as one as well", () => {
    const fleets = ["a", "a-b", "A", "a_b"];
    const ids = ["B-1", "b-1", "1", "B 1", "B/1", "B_1", "B--1", "B-1 ", "B-1_1", "-B-1", "É", "È", "日", "本"];
    const names = fleets.flatMap((fleet) =>
      (["unit", "position"] as const).flatMap((kind) => ids.map((id) => dossierPage(fleet, kind, id).toLowerCase())),
    );
    expect(new Set(names).size).toBe(names.length);
  });

  it("refuses a fleet that is no file name, as the other pages do", () => {
    expect(() => dossierPage("../up", "unit", "A")).toThrow(RangeError);
    expect(() => offendersPage("../up")).toThrow(RangeError);
    expect(offendersPage("saltmere")).toBe("offenders-saltmere.html");
  });
});
