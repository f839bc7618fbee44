import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { InputFiles } from "../../src/ingest/input-files.ts";
import { readSettings } from "../../src/workspace/workspace.ts";
import { CARDS } from "./scratch-workspace.ts";

const CONFIGURATION = `
title: Quillhaven bearing-frame shop
fleets: [{ name: saltmere, title: Saltmere }]
slots: { drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing } }
pipelines: [cards]
`;

let folder = "";
const put = (path: string, text: string) => {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
};
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-inputs-"));
  put("framelife.yaml", CONFIGURATION);
  put("pipelines/cards.yaml", CARDS);
  put("pipelines/unused.yaml", "no pipeline that is named");
  put("exports/cards-1.csv", "one");
  put("exports/other.csv", "no pattern finds it");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const inputs = () => new InputFiles(readSettings(folder));

/** What has another state after `act` than before. */
function changedBy(act: () => void): string[] {
  const files = inputs();
  const before = files.look();
  act();
  const after = files.look();
  return [...new Set([...before.keys(), ...after.keys()])].filter((path) => before.get(path) !== after.get(path));
}

describe("InputFiles", () => {
  it("names the configuration, the pipelines in use, what is kept by hand, and the exports", () => {
    put("aliases.csv", "");
    put("corrections.yaml", "");
    expect([...inputs().look().keys()].sort()).toEqual([
      "aliases.csv",
      "corrections.yaml",
      "exports/cards-1.csv",
      "framelife.yaml",
      "pipelines/cards.yaml",
    ]);
  });

  it("sees a file written longer, one of the same length, one that comes, one that goes", () => {
    expect(changedBy(() => put("exports/cards-1.csv", "longer"))).toEqual(["exports/cards-1.csv"]);
    expect(changedBy(() => put("exports/cards-1.csv", "LONGER"))).toEqual(["exports/cards-1.csv"]);
    expect(changedBy(() => put("exports/cards-2.csv", "two"))).toEqual(["exports/cards-2.csv"]);
    expect(changedBy(() => put("exports/other.csv", "changed"))).toEqual([]);
    expect(changedBy(() => rmSync(join(folder, "exports/cards-2.csv")))).toEqual(["exports/cards-2.csv"]);
  });

  it("sees a file that an editor renamed over another, of the same length and time", () => {
    const path = join(folder, "exports/cards-1.csv");
    const time = new Date("2026-01-01T00:00:00Z");
    utimesSync(path, time, time);
    expect(
      changedBy(() => {
        put("exports/cards-1.csv.new", "ONE");
        utimesSync(`${path}.new`, time, time);
        renameSync(`${path}.new`, path);
      }),
    ).toEqual(["exports/cards-1.csv"]);
  });

  it("sees that a file has become readable", () => {
    expect(changedBy(() => chmodSync(join(folder, "exports/cards-1.csv"), 0o600))).toEqual(["exports/cards-1.csv"]);
  });

  it("follows what pipelines and configuration come to name", () => {
    const named = CARDS.replace("exports/cards*.csv", "exports/other.csv");
    expect(changedBy(() => put("pipelines/cards.yaml", named))).toEqual([
      "pipelines/cards.yaml",
      "exports/cards-1.csv",
      "exports/other.csv",
    ]);
  });

  it("keeps to what was named before while the configuration or a pipeline can't be read", () => {
    const files = inputs();
    const before = [...files.look().keys()];
    put("pipelines/cards.yaml", "files: [");
    put("framelife.yaml", "title: [");
    expect([...files.look().keys()]).toEqual(before);
    put("exports/cards-2.csv", "two");
    expect(files.look().has("exports/cards-2.csv")).toBe(true);
    rmSync(join(folder, "framelife.yaml"));
    rmSync(join(folder, "pipelines"), { recursive: true });
    expect([...files.look().keys()]).toEqual(["exports/cards-1.csv", "exports/cards-2.csv"]);
  });

  it("finds a pipeline that was not there at the start", () => {
    const text = readFileSync(join(folder, "pipelines/cards.yaml"), "utf8");
    rmSync(join(folder, "pipelines/cards.yaml"));
    const files = inputs();
    expect([...files.look().keys()]).toEqual(["framelife.yaml"]);
    put("pipelines/cards.yaml", text);
    expect([...files.look().keys()]).toEqual(["framelife.yaml", "pipelines/cards.yaml", "exports/cards-1.csv"]);
  });

  it("leaves to the ingest what lies outside, is a folder, or leads nowhere", () => {
    symlinkSync(tmpdir(), join(folder, "exports/cards-folder.csv"));
    symlinkSync("/etc/hostname", join(folder, "exports/cards-out.csv"));
    expect([...inputs().look().keys()]).toEqual(["framelife.yaml", "pipelines/cards.yaml"]);
    rmSync(join(folder, "exports/cards-out.csv"));
    rmSync(join(folder, "exports/cards-folder.csv"));
    symlinkSync("nowhere", join(folder, "exports/cards-lost.csv"));
    expect([...inputs().look().keys()]).toEqual(["framelife.yaml", "pipelines/cards.yaml"]);
  });
});
