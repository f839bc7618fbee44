import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ScratchWorkspace } from "../scratch-workspace.ts";

const CARDS = `
title: Job cards
record: rebuild
files: exports/cards*.csv
fields:
  card: { column: Card }
  fleet: { column: Owner, words: { SM: saltmere, OS: ostrel } }
  unit: { column: Frame, tidy: [upper] }
  removed_on: { column: Out, dates: ["%Y-%m-%d"] }
`;

const UNITS = `
title: Units
record: unit
files: exports/units.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
`;

const CARD_ROWS = "Card,Owner,Frame,Out\n1,SM,SM0227,2020-01-01\n2,SM,SMO227,2021-01-01\n3,OS,SMO227,2021-01-01\n";
const PROPOSED =
  'saltmere,SMO227,SM0227,,"letters that look like figures; 1 record of it, 2 of SM0227, which alone is on the list of units"\n';

function workspaceOf(aliases?: string, cards = CARD_ROWS): ScratchWorkspace {
  const files = { "exports/cards.csv": cards, "exports/units.csv": "Frame\nSM0227\n" };
  return new ScratchWorkspace(
    { cards: CARDS, units: UNITS },
    aliases === undefined ? files : { ...files, "aliases.csv": aliases },
  );
}

const fileOf = ({ folder }: ScratchWorkspace) => readFileSync(join(folder, "aliases.csv"), "utf8");
const cardUnits = (workspace: ScratchWorkspace) => workspace.lines("select card, unit from records.rebuild order by 1");
const HEADER = "fleet,unit,is,accept,because\n";

describe("aliases", () => {
  it("are proposed in a file, once, and change nothing by themselves", async () => {
    const workspace = workspaceOf();
    const { aliases } = await workspace.ingest();
    expect(aliases).toEqual({ proposed: 1, waiting: 1, unused: [] });
    expect(fileOf(workspace)).toBe(`${HEADER}${PROPOSED}`);
    expect(await cardUnits(workspace)).toEqual(["1|SM0227", "2|SMO227", "3|SMO227"]);
    const again = await workspace.ingest();
    expect(again.aliases).toEqual({ proposed: 0, waiting: 1, unused: [] });
    expect(again.files.every(({ unchanged }) => unchanged)).toBe(true);
    expect(fileOf(workspace)).toBe(`${HEADER}${PROPOSED}`);
  });

  it("replace the number once a person says yes, in their fleet, with a change that can be taken back", async () => {
    const workspace = workspaceOf();
    await workspace.ingest();
    workspace.write("aliases.csv", fileOf(workspace).replace(",SM0227,,", ",SM0227,Yes,"));
    const { aliases, files } = await workspace.ingest();
    expect(aliases).toEqual({ proposed: 0, waiting: 0, unused: [] });
    expect(files[0]).toMatchObject({ corrected: 1, accepted: 2, read: 3 });
    expect(await cardUnits(workspace)).toEqual(["1|SM0227", "2|SM0227", "3|SMO227"]);
    expect(await workspace.lines("select row, field, before, after, rule, because from landing.change")).toEqual([
      "3|unit|SMO227|SM0227|alias|line 2 of aliases.csv",
    ]);
    expect(await workspace.lines("select * from quarantine.finding where rule = 'near_miss'")).toEqual([]);
    workspace.write("aliases.csv", fileOf(workspace).replace(",Yes,", ",,"));
    await workspace.ingest();
    expect(await cardUnits(workspace)).toEqual(["1|SM0227", "2|SMO227", "3|SMO227"]);
  });

  it("are not proposed again when refused, nor found", async () => {
    const refused = `${HEADER}saltmere,SMO227,SM0227,no,another frame\n`;
    const workspace = workspaceOf(refused);
    expect((await workspace.ingest()).aliases).toEqual({ proposed: 0, waiting: 0, unused: [] });
    expect(fileOf(workspace)).toBe(refused);
    expect(await workspace.lines("select * from quarantine.finding where rule = 'near_miss'")).toEqual([]);
  });

  it("are added to what is there byte by byte, in its columns, line ends and delimiter", async () => {
    const before = '\ufeffIs;unit;fleet;because;accept\r\nX1; X2 ;saltmere;"seen; on site";yes';
    const workspace = workspaceOf(before);
    await workspace.ingest();
    const added = PROPOSED.trim().split('"')[1];
    expect(fileOf(workspace)).toBe(`${before}\r\nSM0227;SMO227;saltmere;"${added}";\r\n`);
  });

  it("replace a number composed of others too, with what it would be", async () => {
    const workspace = new ScratchWorkspace(
      {
        cards: CARDS.replace(
          "{ column: Frame, tidy: [upper] }",
          "{ compose: [site, model] }\n  site: { column: Site }\n  model: { column: Frame }",
        ),
      },
      {
        "exports/cards.csv": "Card,Owner,Frame,Out,Site\n1,SM,7,2020-01-01,N\n2,SM,07,2021-01-01,N\n",
        "aliases.csv": `${HEADER}saltmere,N 07,N 7,yes,\n`,
      },
    );
    const { aliases } = await workspace.ingest();
    expect(aliases.unused).toEqual([]);
    expect(await cardUnits(workspace)).toEqual(["1|N 7", "2|N 7"]);
    expect(await workspace.lines("select row, field, before, after, rule from landing.change")).toEqual([
      "3|unit|N 07|N 7|alias",
    ]);
  });

  it("of a number that no record has are told by their line", async () => {
    const workspace = workspaceOf(`${HEADER}saltmere,SMO227,SM0227,yes,\nsaltmere,SM9999,SM0227,yes,\n`);
    const { aliases } = await workspace.ingest();
    expect(aliases.unused).toEqual([
      'aliases.csv, line 3: no record of saltmere has the unit "SM9999", which is to be "SM0227"; write the number as the records have it, or take the line out',
    ]);
    expect((await workspace.ingest()).aliases.unused).toEqual(aliases.unused);
  });

  it("run through a row of them", async () => {
    const workspace = workspaceOf(`${HEADER}saltmere,SMO227,SM-0227,yes,\nsaltmere,SM-0227,SM0227,yes,\n`);
    await workspace.ingest();
    expect(await cardUnits(workspace)).toEqual(["1|SM0227", "2|SM0227", "3|SMO227"]);
  });

  it("keep a number that a spreadsheet would run from running, both ways", async () => {
    const cards = "Card,Owner,Frame,Out\n1,SM,=SM0227,2020-01-01\n2,SM,=SM0227,2020-02-01\n3,SM,=SMO227,2021-01-01\n";
    const workspace = workspaceOf(undefined, cards);
    await workspace.ingest();
    const written = fileOf(workspace);
    expect(written).toContain("saltmere,'=SMO227,'=SM0227,,");
    workspace.write("aliases.csv", written.replace("'=SM0227,,", "'=SM0227,yes,"));
    await workspace.ingest();
    expect(await cardUnits(workspace)).toEqual(["1|=SM0227", "2|=SM0227", "3|=SM0227"]);
  });

  it("let the records stand where the file can't be written, and are added when it can", async () => {
    const workspace = workspaceOf();
    mkdirSync(join(workspace.folder, "aliases.csv.partial"));
    const { aliases } = await workspace.ingest();
    expect(aliases.notice).toContain("1 numbers of units that are nearly another's can't be added to");
    expect(await cardUnits(workspace)).toHaveLength(3);
    rmSync(join(workspace.folder, "aliases.csv.partial"), { recursive: true });
    expect((await workspace.ingest()).aliases).toEqual({ proposed: 1, waiting: 1, unused: [] });
  });

  it.each([
    [
      "a fleet that is not there",
      "salmere,A,B,yes,",
      'line 2: the workspace has no fleet "salmere"; did you mean "saltmere"?',
    ],
    [
      "a word that is no answer",
      "saltmere,A,B,maybe,",
      'line 2: accept is "maybe"; write yes or no, or leave it blank',
    ],
    ["a blank number", "saltmere,A,,yes,", "line 2: is is blank; fill it in"],
    ["a unit that is itself", "saltmere,A,A,yes,", 'line 2: "A" is itself already; take the line out'],
    ["a circle", "saltmere,A,B,yes,\nsaltmere,B,A,yes,", "line 2: A is B is A, which goes round in a circle"],
    ["one number as two units", "saltmere,A,B,yes,\nsaltmere,A,C,yes,", 'line 3: "A" is "B" by line 2, and "C" here'],
  ])("refuse %s with line and remedy", async (_, lines, message) => {
    await expect(workspaceOf(`${HEADER}${lines}\n`).ingest()).rejects.toThrow(message);
  });

  it("refuse a header that is none of theirs", async () => {
    await expect(workspaceOf("fleet,unit,was,accept,because\n").ingest()).rejects.toThrow(
      'Cannot use aliases.csv, line 1: there is no column "was"',
    );
  });
});
