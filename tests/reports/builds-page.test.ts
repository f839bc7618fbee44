import { h } from "preact";
import { describe, expect, it } from "vitest";
import { BuildsPage } from "../../reports/pages/builds-page.tsx";
import { renderPage } from "../../reports/render-page.tsx";
import { bandWords } from "../../reports/text/band-words.ts";
import { buildsSentences } from "../../reports/text/builds-sentences.ts";
import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { compareAnswerOf } from "./compare-fixtures.ts";
import { fleetOf, reportOf } from "./fixtures.ts";

const FLEETS = [
  { name: "saltmere", title: "Saltmere drainage stations" },
  { name: "ostrel", title: "Ostrel quarry" },
];

const level = (covariate: string, name: string | null): CompareAnswer["confounding"][number] => ({
  covariate,
  level: name,
  byBand: [
    { band: "under 2", value: 4.58 },
    { band: "7 and over", value: 4.35 },
  ],
  difference: 0.1,
});

async function pageOf(answer: CompareAnswer): Promise<string> {
  const fleet = fleetOf({ builds: [answer] });
  const input = reportOf({ fleets: [fleet] });
  const page = await renderPage(
    h(BuildsPage, { input, fleet, together: [], answers: [answer], endPlay: fleet.endPlay }),
  );
  return page
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll(/\s+/g, " ");
}

describe("the page of builds", () => {
  it("gives measured values their unit, and says what is a mean among shares", async () => {
    const confounding = [level("end_play", null), level("site", "Northgate")];
    const text = await pageOf(compareAnswerOf({ confounding }));
    expect(text).toMatch(
      /By the fitted laws half have failed by [\d,]+ h at .+ thou( and over)?, by [\d,]+ h at .+ thou( and over)?\./,
    );
    expect(text).toContain("under 2 thou 7 thou and over Greatest difference");
    expect(text).toContain("Mean end play (thou) 4.58 4.35");
    expect(text).toMatch(/End play Lives Failed .* under 2 thou /);
  });

  it("has no unit for levels", async () => {
    const text = await pageOf(compareAnswerOf({ effect: "lube" }, ["oil_bath", "grease"]));
    expect(text).toMatch(
      /By the fitted laws half have failed by [\d,]+ h at (oil bath|grease), by [\d,]+ h at (oil bath|grease)\./,
    );
    expect(text).toContain("Lube Lives Failed");
  });
});

describe("bandWords()", () => {
  it.each([
    ["under 2", "thou", "under 2 thou"],
    ["2 to 3.5", "thou", "2 to 3.5 thou"],
    ["7 and over", "thou", "7 thou and over"],
    ["oil_bath", null, "oil bath"],
  ])("says %s with unit %s as %s", (name, unit, words) => {
    expect(bandWords(name, unit)).toBe(words);
  });
});

describe("buildsSentences()", () => {
  it("names the fleet where all lives compared are of one", () => {
    const answer = "Seals last longer.";
    const one = { answer, confounding: [level("fleet", "saltmere"), level("site", "a"), level("site", "b")] };
    const two = { answer, confounding: [level("fleet", "saltmere"), level("fleet", "ostrel")] };
    expect(buildsSentences([one, two, { answer, confounding: [] }], FLEETS)).toEqual([
      "Saltmere drainage stations alone: Seals last longer.",
      answer,
      answer,
    ]);
  });
});
