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
  const { folder, pipelines } = readWorkspace(workspace.folder);
  return pipelines.flatMap((named) => matchFiles(folder, named));
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

  it.each(["none/*.csv", "exports/none.csv", "exports/*.CSV"])("says that nothing matches %s", (files) => {
    expect(() => matched(files)).toThrow(`no file matches "${files}"`);
  });
});
