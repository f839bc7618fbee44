import { h } from "preact";
import { describe, expect, it } from "vitest";
import { EntriesPage } from "../../reports/pages/entries-page.tsx";
import { renderPage } from "../../reports/render-page.tsx";
import { entryList } from "../../reports/text/entry-list.ts";
import { entityOf, fleetOf, offendersAnswerOf, reportOf, timelineOf } from "./fixtures.ts";
import { fleetRegisterOf } from "./register-fixtures.ts";

type Kind = "unit" | "position";

async function pageOf(kind: Kind, units: number, { listed = true, part = 0, name = (at: number) => `QF-${at}` } = {}) {
  const timeline = timelineOf(units, name);
  const register = fleetRegisterOf("saltmere", timeline, listed);
  const unit = offendersAnswerOf("unit", [entityOf(name(0), 9, 2.1, { verdict: "offender" })]);
  const position = offendersAnswerOf("position", [entityOf("P-101", 1, 1, { verdict: "within chance" })]);
  const fleet = fleetOf({ timeline, offenders: { unit, position }, dossiers: [] });
  const input = reportOf({ fleets: [fleet] });
  return renderPage(h(EntriesPage, { input, fleet, register, list: entryList(fleet, register, kind), part }));
}

function textOf(page: string): string {
  return page
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll(/\s+/g, " ");
}

const entry = (page: string, id: string) =>
  new RegExp(`<li id="${id}" class="entry">.*?</li>`, "s").exec(page)?.[0] ?? "";

describe("the page of all frames", () => {
  it("says of each how it stands and how it was judged, with its builds and the rows that say so", async () => {
    const page = await pageOf("unit", 3);
    expect(page.match(/class="entry"/g)).toHaveLength(3);
    const first = textOf(entry(page, "frame-QF-0"));
    expect(first).toContain("Offender. Taken to run still at P-");
    expect(first).toMatch(/Frame D2; \d builds, \d failures? where 2\.1 were expected\./);
    expect(first).toMatch(/Drive-end seals: failed, lip wear/);
    expect(first).toContain("exports/saltmere_cards.csv:17, 18");
    const second = textOf(entry(page, "frame-QF-1"));
    expect(second).toContain("Taken out on 2024-06-19, not back since; last at P-104.");
    expect(second).not.toContain("expected");
    expect(textOf(entry(page, "frame-QF-2"))).toMatch(/Runs at P-\d+ since \d{4}-\d\d-\d\d\./);
    // Of the three above one runs, one is taken to run, and one was taken out.
    expect(textOf(page)).toContain(
      "Of 3 frames 2 run (or are taken to run), 1 was taken out and is not back in service and 0 are out of use.",
    );
    expect(textOf(page)).toContain("framelife trace FILE:ROW");
    expect(textOf(page)).toContain("framelife trace saltmere/QF-0");
  });

  it("says on paper what is left out there", async () => {
    const left = /<p class="on-paper">On paper each frame has its line alone; its builds/;
    expect(await pageOf("unit", 3)).toMatch(left);
    // Where no builds are listed, none are left out.
    expect(await pageOf("unit", 3, { listed: false })).not.toMatch(left);
  });

  it("is laid over pages that lead to each other", async () => {
    const first = await pageOf("unit", 260);
    const second = await pageOf("unit", 260, { part: 1 });
    const [one, two] = [first, second].map((page) => page.match(/class="entry"/g)!.length);
    expect(one! + two!).toBe(260);
    expect(first).toContain('href="frames-saltmere.2.html"');
    expect(second).toContain('href="frames-saltmere.html"');
    expect(first.length).toBeLessThan(1_500_000);
  });

  it("leads from a page of very many to some of them, and says how the others are reached", async () => {
    const page = await pageOf("unit", 7000, { listed: false, part: 13 });
    const others = page.match(/href="frames-saltmere[.\d]*html"/g)!;
    expect(new Set(others).size).toBeLessThan(28);
    for (const next of ["13", "15", "28"]) expect(others).toContain(`href="frames-saltmere.${next}.html"`);
    expect(textOf(page)).toContain("reached from these, or by the name of a frame in the box above.");
  });

  it("gives frames without builds where these are more than pages have room for, and the command for them", async () => {
    const page = await pageOf("unit", 3, { listed: false });
    expect(page.match(/class="entry"/g)).toHaveLength(3);
    expect(page).not.toContain("<details");
    expect(textOf(page)).toContain(
      "more than pages have room for. Those of a frame, with the rows behind each: framelife trace saltmere/FRAME",
    );
  });

  it("takes hostile names as text, in anchors too", async () => {
    const hostile = `<img src=x onerror=alert(1)>"'&`;
    const page = await pageOf("unit", 2, { name: (at) => `${hostile}${at}` });
    expect(page).not.toContain("<img");
    expect(page).toMatch(/<li id="frame-_3c_img_20_src[\w-]*" class="entry">/);
    const ids = [...page.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe("the page of all positions", () => {
  it("says which frames stood there when", async () => {
    const page = await pageOf("position", 3);
    const text = textOf(entry(page, "position-P-101"));
    expect(text).toMatch(/QF-\d runs here since|Last here: QF-\d/);
    expect(text).toMatch(/\d frames?; \d builds?, \d failures? where 1 was expected\./);
    expect(text).toMatch(/Frame Build In service Taken out Taken out for QF-\d/);
    expect(text).not.toContain("saltmere_cards");
  });
});
