import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { AuditAnswer, AuditedCorrection } from "../../src/questions/audit-types.ts";
import { standInAssets } from "./built-assets.ts";
import {
  auditedFileOf,
  auditOf,
  completenessOf,
  findingOf,
  fleetOf,
  gapOf,
  lifeAnswerOf,
  reportOf,
} from "./fixtures.ts";
import { writeReport } from "./whole-report.ts";

let built: string;
let page: string;
let fleetPage: string;
beforeAll(async () => {
  built = await standInAssets();
  [page, fleetPage] = await pagesOf({});
});

/** The page on the state of the data, and that of a fleet which has nothing else to say. */
async function pagesOf(audit: Partial<AuditAnswer>): Promise<[string, string]> {
  const folder = await mkdtemp(join(tmpdir(), "framelife-report-"));
  const bare = fleetOf({ life: lifeAnswerOf([]), timeline: [] });
  await writeReport(reportOf({ audit: auditOf(audit), fleets: [bare] }), folder, { built });
  const read = (name: string) => readFile(join(folder, name), "utf8");
  return [await read("data-quality.html"), await read("fleet-saltmere.html")];
}

function textOf(html: string): string {
  return html
    .replaceAll(/<script[^>]*>.*?<\/script>/gs, " ")
    .replaceAll(/<svg.*?<\/svg>/gs, " ")
    .replaceAll(/<[^>]*>/g, " ")
    .replaceAll("\u00a0", " ")
    .replaceAll("&quot;", '"')
    .replaceAll(/\s+/g, " ");
}

describe("the page on the state of the data", () => {
  it("leads with the answer, then what each gap costs, by fleet and with the command that lists it", () => {
    const text = textOf(page);
    const { answer, gaps } = auditOf();
    const places = [answer, gaps[0]?.sentence ?? "", "41 of 820 (5 %); failures 20 of 222", gaps[0]?.rows ?? ""].map(
      (words) => text.indexOf(words),
    );
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  it("accounts for every file, and tells those gone and replaced", async () => {
    const files = [
      auditedFileOf(),
      auditedFileOf({ path: "exports/gone.csv", state: "gone" }),
      auditedFileOf({ path: "exports/old.csv", name: "exports/old.csv@1a2b3c4d", state: "replaced" }),
    ];
    const text = textOf((await pagesOf({ files }))[0]);
    expect(text).toContain("exports/saltmere_cards.csv rebuild 412 9 6 4 2 3 388 11 2");
    expect(text).toContain("No longer there, their records kept: exports/gone.csv.");
    expect(text).toContain("Replaced by newer files of their names: exports/old.csv@1a2b3c4d");
    expect(textOf(page)).toContain("Every file that was read is still there.");
  });

  it("shows findings by rule, each with its value, the remedy and the id to trace it by", () => {
    const text = textOf(page);
    expect(text).toContain("Dates of one card in an order that can't be the row is set aside 4 4 1 date_order");
    expect(text).toContain("A value outside what its gauge can read, the value is left out: 2 of 11 times");
    expect(text).toContain(
      "exports/saltmere_cards.csv:17#end_play End play 99 outside 0.5 to 20 thou; correct the cell",
    );
    expect(page).toContain("<code>exports/saltmere_cards.csv:17#end_play</code>");
    expect(text).toContain("exports/saltmere_cards.csv:12#unit – qf-1 QF-1");
  });

  it("shows the cell as it stands beside our reading of it, and no value of what is no cell", async () => {
    const findings = [
      findingOf({ rule: "out_of_range", cell: "03/04/2020", value: "2020-04-03" }),
      findingOf({ rule: "out_of_range", row: null, value: null, message: "of 9 days not one" }),
    ];
    const text = textOf((await pagesOf({ findings }))[0]);
    expect(text).toContain("End play 03/04/2020, read as 2020-04-03 outside");
    expect(text).toContain("End play – of 9 days not one");
  });

  it("draws the fields that some cards lack, and names those that none or all have", () => {
    const text = textOf(page);
    expect(text).toContain("Job cards, Saltmere drainage stations");
    expect(text).toContain("On none: speed.");
    expect(page.match(/<figure/g)).toHaveLength(1);
    expect(page).toMatch(/<svg role="img" aria-label="Job cards, Saltmere drainage stations: for each of 3 fields/);
    expect(text).toContain("Lists of units, Saltmere drainage stations model 40 38 95 %");
  });

  it("draws of many fleets those whose cards lack most, and has a line and not a column for each", async () => {
    const names = Array.from({ length: 40 }, (_, at) => `f${String(at).padStart(2, "0")}`);
    // The later a fleet, the more cards have no lube: f39 lacks most.
    const completeness = names.flatMap((fleet, at) =>
      completenessOf(fleet, ["position", "lube"]).map((field) =>
        field.field === "lube"
          ? { ...field, have: field.records - 1 - at, share: 1 - (1 + at) / field.records }
          : field,
      ),
    );
    const lives = (failed: number) => ({ count: failed, of: 100, share: failed / 100 });
    const gap = gapOf({
      fleets: names.map((fleet, at) => ({ fleet, missing: lives(50), failures: lives(at) })),
    });
    const [many] = await pagesOf({ completeness, gaps: [gap] });
    const rowsOf = (caption: string) => {
      const table = many.slice(many.indexOf(`<caption>${caption}`)).split("</table>")[0] ?? "";
      return [...table.matchAll(/<th scope="row"[^>]*>([^<]*)</g)].map(([, name]) => name);
    };
    expect(many.match(/<h3>Job cards, f\d\d<\/h3>/g)).toEqual(
      names
        .toReversed()
        .slice(0, 6)
        .map((name) => `<h3>Job cards, ${name}</h3>`),
    );
    for (const caption of ["What cards lack, most first: the first 30 of 40", "The same by fleet"]) {
      expect(rowsOf(caption)).toEqual(names.toReversed().slice(0, 30));
    }
    expect(rowsOf("What cards lack, most first: the other 10 rows")).toEqual(names.toReversed().slice(30));
  });

  it("tells what became of corrections, and asks of numbers that are nearly another's", async () => {
    const proposal = {
      fleet: "saltmere",
      unit: "SMO227",
      meant: "SM0227",
      because: "an O for a 0",
      trace: "exports/saltmere_cards.csv:9",
    };
    const line = (number: number, outcome: AuditedCorrection["outcome"]): AuditedCorrection => ({
      ...{ line: number, outcome, record: "rebuild", fleet: "saltmere", id: `C${number}`, field: "end_play" },
      ...{ old: "5", new: "4", reason: "card read again", by: "shop", rows: [`exports/saltmere_cards.csv:${number}`] },
    });
    const corrections = {
      applied: 1,
      settled: 1,
      waiting: 0,
      lines: [line(2, "applied"), line(3, "settled"), line(4, "stale")],
      stale: ['line 4 of corrections.csv: end_play of rebuild "C1" is not "5" any more'],
      unmatched: [],
      aliases: 0,
      proposals: [proposal],
    };
    const text = textOf((await pagesOf({ corrections }))[0]);
    expect(text).toContain(
      "1 correction applied; 1 says what the export says by now; 1 whose old value stands there no more.",
    );
    expect(text).toContain(
      "2 applied rebuild saltmere/C2 end_play 5 4 card read again shop exports/saltmere_cards.csv:2",
    );
    expect(text).toContain('end_play of rebuild "C1" is not "5" any more.');
    expect(text).toContain("saltmere/SMO227 saltmere/SM0227 an O for a 0 exports/saltmere_cards.csv:9");
  });

  it("says of every table how its rows are traced", () => {
    for (const html of [page, fleetPage]) {
      const tables = html.match(/<\/table>/g)?.length ?? 0;
      expect(tables).toBeGreaterThan(0);
      expect(html.match(/<\/table><\/section><p class="trace">/g)).toHaveLength(tables);
    }
  });

  it("is told of in short on the page of a fleet, with what its own gaps cost", () => {
    const text = textOf(fleetPage);
    expect(text).toContain(
      "Lives without hours: the unit has no meter reading at all: 41 of 820 (5 %), 20 of 222 failures among them.",
    );
    expect(fleetPage).toContain('<a href="data-quality.html">Data quality</a>');
  });

  it("keeps quiet of a fleet that a gap does not touch", async () => {
    const [, other] = await pagesOf({ gaps: [gapOf({ fleets: [] })] });
    expect(textOf(other)).not.toContain("Lives without hours");
  });

  it("reads right with nothing read, nothing found and nothing missing", async () => {
    const [empty] = await pagesOf({
      files: [],
      rules: [],
      findings: [],
      completeness: [],
      gaps: [],
      answer: "No file has been read yet.",
    });
    const text = textOf(empty);
    for (const words of [
      "No file has been read yet.",
      "The checks found nothing",
      "Nothing that an answer needs is missing.",
      "No record is there to look at.",
    ])
      expect(text).toContain(words);
    expect(text).not.toMatch(/\b(NaN|undefined|null)\b/);
  });
});
