import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { FindNames } from "../../src/report/find-names.ts";
import { benchAnswerOf, benchGroupOf } from "./bench-fixtures.ts";
import { standInAssets } from "./built-assets.ts";
import { compareAnswerOf } from "./compare-fixtures.ts";
import {
  fleetOf,
  intervalsAnswerOf,
  lifeAnswerOf,
  lifeGroupOf,
  offendersAnswerOf,
  reportOf,
  slotLivesOf,
  spreadLives,
  timelineOf,
} from "./fixtures.ts";
import { sparesAnswerOf } from "./spares-fixtures.ts";
import { type WholeReport, writeReport } from "./whole-report.ts";

let built: string;
/** Two fleets whose pages are all there, one of which is laid over several pages, and one without anything on record. */
let pages: Record<string, string>;
let names: FindNames;

const lives = spreadLives(12, 1.5, 8000);
const small = {
  life: lifeAnswerOf([lifeGroupOf("shaft_sleeve", lives, { shape: 1.5, scale: 9000 })]),
  lives: [slotLivesOf("shaft_sleeve", lives)],
};
const empty = fleetOf({
  name: "empty",
  title: "Empty yard",
  life: lifeAnswerOf([]),
  lives: [],
  timeline: [],
  intervals: { ...intervalsAnswerOf([]), groups: [] },
  intervalsByGroup: null,
  offenders: { unit: offendersAnswerOf("unit", []), position: offendersAnswerOf("position", []) },
  dossiers: [],
  bench: benchAnswerOf(benchGroupOf(0)),
});

async function written(input: WholeReport): Promise<{ pages: Record<string, string>; names: FindNames }> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-way-"));
  const { pages } = await writeReport(input, folder, { built });
  const texts = await Promise.all(
    pages.map(async (name) => [name, await readFile(join(folder, name), "utf8")] as const),
  );
  const script = await readFile(join(folder, "assets", "names.js"), "utf8");
  return {
    pages: Object.fromEntries(texts),
    names: JSON.parse(script.slice("globalThis.framelifeNames = ".length, -2)) as FindNames,
  };
}

beforeAll(async () => {
  built = await standInAssets();
  const builds = [compareAnswerOf()];
  const fleets = [
    fleetOf({ ...small, builds }),
    fleetOf({ ...small, name: "large", title: "Large works", timeline: timelineOf(300) }),
    empty,
  ];
  ({ pages, names } = await written(reportOf({ fleets, builds, spares: sparesAnswerOf() })));
});

/** Links of a page, as page and anchor. */
function linksOf(name: string, html: string): { page: string; anchor: string | null }[] {
  return [...html.matchAll(/<a [^>]*href="([^"]*)"/g)].map(([, link = ""]) => {
    const [page = "", anchor] = link.split("#");
    return { page: page === "" ? name : page, anchor: anchor ?? null };
  });
}

describe("the way around a report", () => {
  it("has no link that leads nowhere, to a page or to a place on one", () => {
    const ids = new Map(
      Object.entries(pages).map(([name, html]) => [
        name,
        new Set([...html.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id)),
      ]),
    );
    const links = Object.entries(pages).flatMap(([name, html]) => linksOf(name, html));
    const there = ({ page, anchor }: (typeof links)[number]) =>
      anchor === null ? ids.has(page) || page.startsWith("spares-order.") : ids.get(page)?.has(anchor);
    expect(links.length).toBeGreaterThan(2000);
    expect(links.filter((link) => !there(link))).toEqual([]);
  });

  it("reaches every page from the index", () => {
    const reached = new Set(["index.html"]);
    for (const name of reached)
      for (const { page } of linksOf(name, pages[name] ?? "")) if (page in pages) reached.add(page);
    expect([...reached].toSorted()).toEqual(Object.keys(pages).toSorted());
    expect(reached.size).toBeGreaterThan(20);
  });

  it("finds every frame, position and page of it by name, at a place that is there", () => {
    const places = [...names.pages, ...names.fleets.flatMap((fleet) => fleet.pages)].map(([, page]) => page);
    expect(places.filter((page) => !(page in pages))).toEqual([]);
    // Dossiers and the further pages of a list are found by their frames.
    const listed = Object.keys(pages).filter((page) => !/^(dossier|position)-|\.\d+\.html$/.test(page));
    expect(new Set(places)).toEqual(new Set(listed));
    expect(names.fleets.map(({ unit, position }) => [unit.ids.length, position.ids.length])).toEqual([
      [40, 20],
      [300, 20],
      [0, 0],
    ]);
  });

  it("makes no page of a fleet with nothing on record, leads to none, and says so", () => {
    expect(Object.keys(pages).filter((name) => name.includes("empty"))).toEqual([]);
    for (const html of Object.values(pages)) expect(html).not.toMatch(/href="[^"]*empty/);
    expect(pages["index.html"]).toContain("Nothing is on record of this fleet up to 2024-06-30.");
  });

  it("makes no page of a question that has no answer, and leads to none from its siblings", () => {
    expect(pages["builds-saltmere.html"]).toBeDefined();
    expect(pages["builds-large.html"]).toBeUndefined();
    const siblings = (name: string) =>
      [.../<nav class="beside-it".*?<\/nav>/s.exec(pages[name]!)![0].matchAll(/href="([^"]*)"/g)].map(
        ([, page]) => page,
      );
    expect(siblings("life-saltmere.html")).toContain("builds-saltmere.html");
    expect(siblings("life-large.html")).toEqual([
      "fleet-large.html",
      "life-large.html",
      "offenders-large.html",
      "bench-large.html",
      "frames-large.html",
      "positions-large.html",
    ]);
  });

  it.each([
    { page: "index.html", path: [], current: 'href="index.html" aria-current="page"' },
    { page: "spares.html", path: ["index.html"], current: 'href="spares.html" aria-current="page"' },
    { page: "fleet-saltmere.html", path: ["index.html"], current: 'href="fleet-saltmere.html" aria-current="page"' },
    {
      page: "life-saltmere.html",
      path: ["index.html", "fleet-saltmere.html"],
      current: 'href="life-saltmere.html" aria-current="page"',
    },
    {
      page: "dossier-saltmere-QF-001.html",
      path: ["index.html", "fleet-saltmere.html", "offenders-saltmere.html"],
      current: 'href="offenders-saltmere.html" aria-current="true"',
    },
    {
      page: "frames-large.2.html",
      path: ["index.html", "fleet-large.html", "frames-large.html"],
      current: 'href="frames-large.html" aria-current="true"',
    },
  ])("says where $page belongs: under $path", ({ page, path, current }) => {
    const html = pages[page]!;
    const way = /<nav class="over".*?<\/nav>/s.exec(html)?.[0] ?? "";
    expect([...way.matchAll(/href="([^"]*)"/g)].map(([, link]) => link)).toEqual(path);
    expect(html.match(/aria-current/g)).toHaveLength(1);
    expect(html).toContain(current);
  });

  it("leads from each table and sentence that names a frame to where more is said of it", () => {
    const frame = 'href="frames-saltmere.html#frame-QF-012">QF-012</a>';
    const own = 'href="dossier-saltmere-QF-001.html">QF-001</a>';
    expect(pages["fleet-saltmere.html"]).toContain(frame);
    expect(pages["offenders-saltmere.html"]).toContain(own);
    expect(pages["bench-saltmere.html"]).toMatch(/href="(frames-saltmere\.html#frame|dossier-saltmere)-QF-\d+/);
    expect(pages["dossier-saltmere-QF-001.html"]).toContain('href="positions-saltmere.html#position-P-101">P-101</a>');
    // Its own name leads nowhere: the reader is there.
    expect(pages["dossier-saltmere-QF-001.html"]).not.toContain('href="dossier-saltmere-QF-001.html"');
    expect(pages["positions-saltmere.html"]).toContain(own);
    expect(pages["positions-saltmere.html"]).toContain(frame);
  });
});
