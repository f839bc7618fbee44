import { h } from "preact";
import { beforeAll, describe, expect, it } from "vitest";
import { IndexPage } from "../../reports/pages/index-page.tsx";
import { renderPage } from "../../reports/render-page.tsx";
import { comparedOf, comparisonOf, fullGroupOf, reportOf, spreadLives } from "./fixtures.ts";
import { manyFleetsOf } from "./many-fleets-fixtures.ts";

let page: string;
beforeAll(async () => {
  const fleets = manyFleetsOf(200);
  const { pooled } = fullGroupOf("shaft_sleeve", spreadLives(12, 1.5, 8000), { shape: 1.5, scale: 9000 });
  const slots = [
    "drive_end_bearings",
    "pump_end_bearing",
    "drive_end_seals",
    "pump_end_seals",
    "shaft_sleeve",
    "shaft",
  ];
  const compared = comparedOf({
    groups: slots.flatMap((slot) => fleets.map(({ name }) => ({ by: { fleet: name, slot }, pooled }))),
    comparisons: slots.map((slot, place) =>
      comparisonOf({
        slot,
        ratios: fleets.slice(1).map((_, at) => ({
          group: place * 200 + at + 1,
          of: place * 200,
          ratio: { estimate: 1.1, low: 0.9, high: 1.4 },
        })),
      }),
    ),
  });
  page = await renderPage(h(IndexPage, { input: reportOf({ fleets, compared }) }));
});

const groups = () => [...page.matchAll(/<tbody><tr class="group">.*?<\/tbody>/gs)].map(([group]) => group);
const fleetsOf = (group: string) =>
  [...group.matchAll(/href="fleet-works-(\d+)\.html"/g)].map(([, number]) => Number(number));
const text = (html: string) =>
  html
    .replaceAll(/<script[^>]*>.*?<\/script>|<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll(/\s+/g, " ");

describe("the index of 200 fleets", () => {
  it("is under 300 kB", () => {
    expect(page.length).toBeLessThan(300_000);
  });

  it("says the answer first, and each fleet once, in groups by how it stands", () => {
    // Every ninth from the third: 22 of 200. Every seventh from the fourth to watch: 29.
    expect(text(page)).toContain(
      "In 22 of 200 fleets something comes back for failure more often than chance explains: 22 frames; 29 more are to be watched.",
    );
    expect(text(page)).toContain("Of 20 fleets too little is on record to give a life.");
    const [out, within, little] = groups();
    // Three are both, the 39th, 102nd and 165th: 22 + 29 - 3.
    expect(fleetsOf(out!)).toHaveLength(48);
    expect(new Set([out!, within!, little!].flatMap(fleetsOf)).size).toBe(200);
    expect(text(little!)).toContain("Too little on record for a life");
    expect(page).not.toContain("<article");
  });

  it("puts the worst first: offenders, then those to watch, then the shortest-lived", () => {
    const [out, within] = groups();
    const offends = fleetsOf(out!).map((number) => (number - 1) % 9 === 2);
    expect(offends).toEqual(offends.toSorted((one, other) => Number(other) - Number(one)));
    const lives = [...within!.matchAll(/data-value="([\d.]+)">[\d,]+ \(/g)].map(([, life]) => Number(life));
    expect(lives.length).toBeGreaterThan(100);
    expect(lives).toEqual(lives.toSorted((one, other) => one - other));
  });

  it("sets side by side no more than can be read, and says which", () => {
    expect(text(page)).toContain("Of 200 fleets the 6 whose L10 lies furthest from the middle of all");
    const figure = /<figure.*?<\/figure>/s.exec(page)![0];
    expect(new Set([...text(figure).matchAll(/Works (\d+)/g)].map(([, number]) => number)).size).toBe(6);
    expect([...page.matchAll(/<td>Works 1<\/td>/g)].length).toBeLessThanOrEqual(50);
  });
});

describe("the index of few fleets", () => {
  it("tells of each by itself", async () => {
    const few = await renderPage(h(IndexPage, { input: reportOf({ fleets: manyFleetsOf(8) }) }));
    expect(few.match(/<article class="fleet">/g)).toHaveLength(8);
    expect(few).not.toContain('class="fleets"');
  });
});
