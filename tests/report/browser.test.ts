import { chmodSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { printingBrowser, printPdf } from "../../src/report/browser.ts";

const folder = mkdtempSync(join(tmpdir(), "framelife-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A program that stands in for a browser. */
function program(name: string, script: string): string {
  const file = join(folder, name);
  writeFileSync(file, `#!/bin/sh\n${script}\n`);
  chmodSync(file, 0o755);
  return file;
}

describe("printingBrowser()", () => {
  it("takes the one named, else the first on the path", () => {
    const own = program("my-browser", "exit 0");
    const found = program("chromium", "exit 0");
    expect(printingBrowser(own, "")).toBe(own);
    expect(printingBrowser(undefined, ["/nowhere", folder].join(delimiter))).toBe(found);
  });

  it("says what to do where there is none, or the one named can't be run", () => {
    expect(() => printingBrowser(join(folder, "none"), folder)).toThrow("is no program that can be run");
    writeFileSync(join(folder, "text"), "not a program");
    expect(() => printingBrowser(join(folder, "text"), folder)).toThrow("name the browser's own file");
  });
});

describe("printPdf()", () => {
  it("asks for the page without a window and without the network's services", async () => {
    const said = join(folder, "said");
    const browser = program("tells", `printf '%s\\n' "$@" > '${said}'`);
    await printPdf(browser, { page: "file:///a%20b.html", pdf: "/tmp/x.pdf" });
    const words = readFileSync(said, "utf8").trim().split("\n");
    expect(words).toContain("--headless");
    expect(words).toContain("--print-to-pdf=/tmp/x.pdf");
    expect(words.at(-1)).toBe("file:///a%20b.html");
  });

  it("tells what the browser said when it stops", async () => {
    const browser = program("stops", "echo 'cannot open display' >&2; exit 21");
    await expect(printPdf(browser, { page: "file:///x", pdf: "/tmp/x.pdf" })).rejects.toThrow(
      "stopped with status 21: cannot open display",
    );
    await expect(printPdf(join(folder, "none"), { page: "file:///x", pdf: "/tmp/x.pdf" })).rejects.toThrow(
      "Cannot print",
    );
  });
});
