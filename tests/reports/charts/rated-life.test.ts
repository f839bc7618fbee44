import { describe, expect, it } from "vitest";
import { ratedLife } from "../../../reports/charts/rated-life.ts";
import { draw, wordsOf } from "./draw.ts";

const ROWS = {
  title: "Drive-end bearings",
  timeTitle: "Running hours",
  level: 0.95,
  seen: { estimate: 3600, low: 2600, high: 4800 },
  rated: [
    { name: "Catalogue, modified (L10mh)", life: 5820 },
    { name: "Catalogue, basic", life: 2704 },
  ],
};

/** Names of the rows. */
function rowsIn(words: string[]): string[] {
  return words.filter((word) => /seen|Catalogue/.test(word));
}

describe("ratedLife()", () => {
  it("puts the life seen and both catalogue lives on one axis, with their figures", async () => {
    const words = wordsOf(await draw(ratedLife(ROWS)));
    expect(words).toEqual(expect.arrayContaining(["3,600", "5,820", "2,700", "Running hours"]));
    expect(rowsIn(words)).toEqual(["L10 seen here", "Catalogue, modified (L10mh)", "Catalogue, basic"]);
  });

  it("leaves out what is not known", async () => {
    const rated = [{ name: "Catalogue, modified (L10mh)", life: null }, ...ROWS.rated.slice(1)];
    expect(rowsIn(wordsOf(await draw(ratedLife({ ...ROWS, rated }))))).toEqual(["L10 seen here", "Catalogue, basic"]);
    const unseen = { estimate: null, low: null, high: null, reason: "no failure" };
    const svg = await draw(ratedLife({ ...ROWS, seen: unseen }));
    expect(rowsIn(wordsOf(svg))).toEqual(["Catalogue, modified (L10mh)", "Catalogue, basic"]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("draws an interval with an open end, and figures all alike", async () => {
    const open = await draw(ratedLife({ ...ROWS, seen: { estimate: 3600, low: 2600, high: null } }));
    expect(open).not.toMatch(/NaN|undefined|Infinity/);
    const same = { estimate: 5000, low: 5000, high: 5000 };
    expect(await draw(ratedLife({ ...ROWS, seen: same, rated: [{ name: "x", life: 5000 }] }))).not.toMatch(
      /NaN|Infinity/,
    );
  });
});
