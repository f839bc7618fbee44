import { describe, expect, it } from "vitest";
import { entriesPage, entryAnchor, plainDossierPage } from "../../src/report/entry-names.ts";

describe("entryAnchor()", () => {
  it("keeps a plain name", () => {
    expect(entryAnchor("unit", "QF-001")).toBe("frame-QF-001");
    expect(entryAnchor("position", "P09")).toBe("position-P09");
  });

  it.each(['<img src=x onerror="1">', "a b", "日本", "\u{1F600}", "", "%", "a#b", "\ud800"])(
    "can be an id and a link of %j",
    (id) => {
      expect(entryAnchor("unit", id)).toMatch(/^frame-[A-Za-z0-9_-]*$/);
    },
  );

  it("gives no two the same", () => {
    const ids = ["a b", "a_b", "a_20_b", "a-b", "ab", "A b", "a  b", "a_20", "_", "__", "é", "e"];
    expect(new Set(ids.map((id) => entryAnchor("unit", id))).size).toBe(ids.length);
  });
});

describe("entriesPage()", () => {
  it("gives no part of one fleet the name of another's", () => {
    const names = ["x", "x-2", "x_2"].flatMap((fleet) => [1, 2, 12].map((part) => entriesPage(fleet, "unit", part)));
    expect(new Set(names).size).toBe(names.length);
    expect(names[0]).toBe("frames-x.html");
    expect(entriesPage("x", "position", 2)).toBe("positions-x.2.html");
  });

  it("refuses a fleet that is no file name", () => {
    expect(() => entriesPage("../up", "unit")).toThrow(RangeError);
  });
});

describe("plainDossierPage()", () => {
  it("gives none for a name that needs a hash", () => {
    expect(plainDossierPage("saltmere", "unit", "SM-031")).toBe("dossier-saltmere-SM-031.html");
    expect(plainDossierPage("saltmere", "unit", "Sm-031")).toBeNull();
    expect(plainDossierPage("salt-mere", "unit", "SM-031")).toBeNull();
  });
});
