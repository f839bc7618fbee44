import { mkdir, mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { listedFiles, listFiles, removeStale } from "../../src/report/stale-pages.ts";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "framelife-stale-"));
  await mkdir(join(folder, "assets"));
  for (const name of ["index.html", "fleet-a.html", "fleet-b.html", "notes.html", "spares-order.csv"])
    await writeFile(join(folder, name), name);
});

describe("removeStale()", () => {
  it("removes what an earlier report wrote and this one does not, and nothing else", async () => {
    await listFiles(folder, ["index.html", "fleet-a.html", "fleet-b.html", "spares-order.csv"]);
    await removeStale(folder, await listedFiles(folder), ["index.html", "fleet-a.html"]);
    expect((await readdir(folder)).toSorted()).toEqual(["assets", "fleet-a.html", "index.html", "notes.html"]);
    expect(await listedFiles(folder)).toEqual(["fleet-a.html", "index.html"]);
  });

  it("takes a file that is gone already as removed", async () => {
    await removeStale(folder, ["fleet-z.html"], ["index.html"]);
    expect(await listedFiles(folder)).toEqual(["index.html"]);
  });

  it("removes nothing where there is no list", async () => {
    const before = await readdir(folder);
    await removeStale(folder, await listedFiles(folder), ["index.html"]);
    expect(await readdir(folder)).toEqual(before);
  });
});

describe("listedFiles()", () => {
  it.each([
    {
      name: "names of other places",
      text: '["../up.html", "/etc/passwd", "a/b.html", "..", ".hidden.html", "x.txt", "assets"]',
    },
    { name: "no names", text: '[1, null, {"a": 2}]' },
    { name: "no list", text: '{"index.html": 1}' },
    { name: "no JSON", text: "[" },
  ])("gives none of a list that has $name", async ({ text }) => {
    await writeFile(join(folder, "assets", "pages.json"), text);
    expect(await listedFiles(folder)).toEqual([]);
    expect(await readFile(join(folder, "index.html"), "utf8")).toBe("index.html");
  });
});
