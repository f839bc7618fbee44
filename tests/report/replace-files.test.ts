import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { replaceFiles } from "../../src/report/replace-files.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-replace-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const put = (root: string, path: string, text: string) => {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
};
const textOf = (path: string) => readFileSync(join(folder, path), "utf8");

describe("replaceFiles()", () => {
  it("puts what was written over what was there, and leaves all else", async () => {
    put(folder, "index.html", "old");
    put(folder, "mine.html", "mine");
    const result = await replaceFiles(folder, async (aside) => {
      put(aside, "index.html", "new");
      put(aside, "assets/report.css", "style");
      expect(textOf("index.html"), "while it is written").toBe("old");
      return 2;
    });
    expect(result).toBe(2);
    expect(["index.html", "assets/report.css", "mine.html"].map(textOf)).toEqual(["new", "style", "mine"]);
    expect(readdirSync(folder).sort()).toEqual(["assets", "index.html", "mine.html"]);
  });

  it("leaves all as it was where the writing fails", async () => {
    put(folder, "index.html", "old");
    const writing = replaceFiles(folder, async (aside) => {
      put(aside, "index.html", "half");
      throw new Error("No space left on device");
    });
    await expect(writing).rejects.toThrow("No space left on device");
    expect(textOf("index.html")).toBe("old");
    expect(readdirSync(folder)).toEqual(["index.html"]);
  });

  it("takes away what a process that was killed has left, and nothing of one that runs", async () => {
    const ended = spawnSync(process.execPath, ["--version"]).pid;
    put(folder, `.writing-${ended}-abc/index.html`, "half");
    put(folder, `.writing-${process.pid}-abc/index.html`, "of someone at work");
    await replaceFiles(folder, async (aside) => put(aside, "index.html", "new"));
    expect(existsSync(join(folder, `.writing-${ended}-abc`))).toBe(false);
    expect(textOf(`.writing-${process.pid}-abc/index.html`)).toBe("of someone at work");
  });
});
