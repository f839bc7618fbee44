import { symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { matchFiles } from "../../src/ingest/match-files.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const FILES = [
  "exports/cards-10.csv",
  "exports/cards-2.csv",
  "exports/old/cards-1.csv",
  "exports/old/a/cards-1.csv",
  "exports/cards+1.txt",
  "cards.csv",
];

function matched(files: string): string[] {
  const pipeline = CARDS.replace("exports/cards*.csv", files);
  const workspace = new ScratchWorkspace({ cards: pipeline }, Object.fromEntries(FILES.map((path) => [path, "x"])));
  const found = readWorkspace(workspace.folder);
  return found.pipelines.flatMap((named) => matchFiles(found, named).map(({ path }) => path));
}

describe("matchFiles()", () => {
  it.each([
    ["cards.csv", ["cards.csv"]],
    ["exports/*.csv", ["exports/cards-10.csv", "exports/cards-2.csv"]],
    ["exports/cards-?.csv", ["exports/cards-2.csv"]],
    ["exports/**/cards-1.csv", ["exports/old/a/cards-1.csv", "exports/old/cards-1.csv"]],
    ["exports/cards+1.*", ["exports/cards+1.txt"]],
    ["'**'", ["cards.csv", "exports/cards+1.txt"]],
    ["[exports/cards-2.csv, exports/*.csv]", ["exports/cards-2.csv", "exports/cards-10.csv"]],
  ])("finds %s, each file once, in the order of names", (files, found) => {
    expect(matched(files).slice(0, found.length)).toEqual(found);
  });

  it("tells by which pattern each was found", () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS.replace("exports/cards*.csv", '[b.csv, "*.csv"]') },
      { "a.csv": "x", "b.csv": "x" },
    );
    const found = readWorkspace(workspace.folder);
    expect(found.pipelines.flatMap((named) => matchFiles(found, named))).toEqual([
      { path: "b.csv", pattern: 0 },
      { path: "a.csv", pattern: 1 },
    ]);
  });

  it("takes a pattern that matches nothing where the store knows what it once found", () => {
    const workspace = new ScratchWorkspace({ cards: CARDS });
    const found = readWorkspace(workspace.folder);
    expect(found.pipelines.flatMap((named) => matchFiles(found, named, () => true))).toEqual([]);
  });

  it("refuses what lies outside the workspace, by .. or by a link, unless the workspace names its folder", () => {
    const outside = new ScratchWorkspace({}, { "cards.csv": "x" });
    const upward = new ScratchWorkspace({ cards: CARDS.replace("exports/cards*.csv", `${outside.folder}/*.csv`) });
    const linked = new ScratchWorkspace({ cards: CARDS.replace("exports/cards*.csv", '"*.csv"') });
    symlinkSync(join(outside.folder, "cards.csv"), join(linked.folder, "cards.csv"));
    for (const { folder } of [upward, linked]) {
      const found = readWorkspace(folder);
      const match = () => found.pipelines.flatMap((named) => matchFiles(found, named));
      expect(match).toThrow(/lies outside the workspace.*name its folder under "read_from"/);
      found.configuration.read_from.push(outside.folder);
      expect(match()).toHaveLength(1);
    }
  });

  it.each(["none/*.csv", "exports/none.csv", "exports/*.CSV"])("says that nothing matches %s", (files) => {
    expect(() => matched(files)).toThrow(`no file matches "${files}"`);
  });
});
