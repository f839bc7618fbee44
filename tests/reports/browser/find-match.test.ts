import { describe, expect, it } from "vitest";
import { Finder } from "../../../reports/browser/find-match.ts";
import type { NamedEntries, NamedFleet } from "../../../src/report/find-names.ts";

const entries = (ids: string[], more: Partial<NamedEntries> = {}): NamedEntries => ({
  ids,
  starts: [0],
  offenders: [],
  watch: [],
  alone: [],
  ...more,
});

const saltmere: NamedFleet = {
  name: "saltmere",
  title: "Saltmere drainage stations",
  pages: [
    ["In short", "fleet-saltmere.html"],
    ["At the bench", "bench-saltmere.html"],
  ],
  unit: entries(["SM-001", "SM-0010", "SM-031", "Ö 7/a", "SM-040"], {
    starts: [0, 3],
    offenders: [2],
    watch: [1],
    alone: [2, [3, "dossier-saltmere-7-a_abc.html"]],
  }),
  position: entries(["P01", "P10", "Hire-04"]),
};
const ostrel: NamedFleet = {
  name: "ostrel",
  title: "Ostrel quarry",
  pages: [["In short", "fleet-ostrel.html"]],
  unit: entries(["OQ-031"]),
  position: entries([]),
};
const finder = new Finder({ pages: [["Methods", "methods.html"]], fleets: [saltmere, ostrel] });
const names = (text: string) => finder.find(text, 12).best.map(({ name }) => name);

describe("Finder", () => {
  it.each([
    { text: "SM-031", found: ["SM-031"], what: "a number in full" },
    { text: "sm 031", found: ["SM-031"], what: "small letters, a blank for a dash" },
    { text: "SMO31", found: ["SM-031"], what: "the letter O for the figure 0" },
    { text: "SM-03l", found: ["SM-031"], what: "the letter l for the figure 1" },
    { text: "031", found: ["SM-031", "OQ-031"], what: "a part, of any fleet, the offender first" },
    { text: "SM-001", found: ["SM-001", "SM-0010"], what: "the exact one before one that goes on" },
    { text: "o7a", found: ["Ö 7/a"], what: "no accent, no stroke" },
    { text: "hire04", found: ["Hire-04"], what: "a position" },
    { text: "ostrel 031", found: ["OQ-031"], what: "a word of the fleet's title before it" },
    { text: "031 quarry", found: ["OQ-031"], what: "a word of the fleet's title after it" },
    { text: "saltmere bench", found: ["At the bench"], what: "words of a page's title and its fleet's" },
    { text: "method", found: ["Methods"], what: "a page of all fleets" },
    { text: "SM-999", found: [], what: "nothing" },
    { text: "  -- ", found: [], what: "no letter and no figure" },
  ])("finds $found by $text: $what", ({ text, found }) => {
    expect(names(text)).toEqual(found);
  });

  it("takes no letter of a title for a figure: 1 is in none of them", () => {
    expect(finder.find("1", 12).best.filter(({ what }) => what === "page")).toEqual([]);
  });

  it("leads to a page of its own, else to the place in the list, on the right page of it", () => {
    const places = (text: string) => finder.find(text, 12).best.map(({ place }) => place);
    expect(places("SM-031")).toEqual(["dossier-saltmere-SM-031.html"]);
    expect(places("Ö 7/a")).toEqual(["dossier-saltmere-7-a_abc.html"]);
    expect(places("SM-001")[0]).toBe("frames-saltmere.html#frame-SM-001");
    expect(places("SM-040")).toEqual(["frames-saltmere.2.html#frame-SM-040"]);
    expect(places("P10")).toEqual(["positions-saltmere.html#position-P10"]);
  });

  it("says how each stands, and how many there are beyond those that it gives", () => {
    const { best, inAll } = finder.find("SM", 2);
    expect(best).toMatchObject([
      { name: "SM-031", standing: "offender", what: "frame", fleet: "Saltmere drainage stations" },
      { name: "SM-0010", standing: "to watch" },
    ]);
    expect(inAll).toBe(4);
  });

  it("looks through 40,000 names within a keystroke", () => {
    const ids = Array.from({ length: 40_000 }, (_, at) => `QF-${String(at).padStart(5, "0")}`);
    const many = new Finder({ pages: [], fleets: [{ ...saltmere, unit: entries(ids) }] });
    const begun = performance.now();
    expect(many.find("QF-1", 12)).toMatchObject({ inAll: 10_000 });
    expect(performance.now() - begun).toBeLessThan(500);
  });
});
