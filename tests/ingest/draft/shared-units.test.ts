import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { byFolder, draftWorkspace } from "../../../src/ingest/draft/draft-workspace.ts";
import { withExports } from "../../../src/ingest/draft/map-file.ts";

let folder = "";
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** What is asked of frames in several files. */
async function asked(files: Record<string, string>): Promise<string[]> {
  folder = mkdtempSync(join(tmpdir(), "framelife-shared-"));
  const exports = Object.entries(files).map(([name, text]) => {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
    return { path, shownPath: name, name: `exports/${name}` };
  });
  const drafted = await withExports(async (kinds) => {
    for (const group of byFolder(exports)) await kinds.add(group);
    return draftWorkspace(kinds, "shop", {});
  });
  for (const { text } of drafted.pipelines) if (text.includes("same frames")) expect(text).toContain("# confirm: ");
  return drafted.questions.flatMap(({ text }) => (text.includes("same frames") ? [text] : []));
}

/** Cards of six frames, one every `step` days from a day on. */
function cards(first: number, from: string, step: number): string {
  const rows = Array.from({ length: 24 }, (_, index) => {
    const day = new Date(Date.parse(from) + index * step * 86_400_000).toISOString().slice(0, 10);
    return `J${first + index},F${index % 6},${day},${1000 + 50 * index}`;
  });
  return ["Job,Frame,Removed,Hours", ...rows, ""].join("\n");
}

describe("frames of one number in several files", () => {
  it("are asked about where the files speak of the same years, as those of two sites do", async () => {
    const texts = await asked({
      "ashby.csv": cards(100, "2020-01-01", 30),
      "crale.csv": cards(500, "2020-01-10", 31),
    });
    expect(texts).toEqual([expect.stringContaining("6 units of exports/ashby.csv stand in exports/crale.csv too")]);
  });

  it("are the same without a question where one file goes on from another, or tells its cards again", async () => {
    const first = cards(100, "2020-01-01", 30);
    expect(await asked({ "2020.csv": first, "2022.csv": cards(200, "2022-01-03", 30) })).toEqual([]);
    const again = `${first}${cards(200, "2022-01-03", 30).split("\n").slice(1).join("\n")}`;
    expect(await asked({ "to 2021.csv": first, "to 2023.csv": again })).toEqual([]);
  });

  it("are of two fleets, and not asked about, where each site has a folder", async () => {
    expect(
      await asked({ "ashby/a.csv": cards(100, "2020-01-01", 30), "crale/c.csv": cards(500, "2020-01-10", 31) }),
    ).toEqual([]);
  });
});
