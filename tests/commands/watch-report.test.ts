import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Ended } from "../../src/commands/surroundings.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { runProgram } from "./run-program.ts";
import { LONG, MORE, newsFrom, Watch, watchedWorkspace } from "./watching.ts";

/** Stands in for the program, which takes seconds: a page that lists the exports of a workspace whose configuration can be read. */
async function listsExports(folder: string, args: string[]): Promise<Ended> {
  try {
    readWorkspace(folder);
  } catch (error) {
    return { status: 1, out: "", err: (error as Error).message };
  }
  const pages = args.at(-1)!;
  mkdirSync(join(pages, "assets"), { recursive: true });
  writeFileSync(join(pages, "assets/report.css"), "");
  rmSync(join(pages, "index.html"), { force: true });
  const exports = readdirSync(join(folder, "exports")).sort();
  writeFileSync(join(pages, "index.html"), `<html><head></head><body>${exports}</body></html>`);
  return { status: 0, out: args.join(" "), err: "" };
}

describe("framelife report --watch", () => {
  it("serves what is written, has it written anew when an export changes, and tells of a fault until it is mended", async () => {
    const workspace = watchedWorkspace();
    const watch = new Watch(workspace.folder, listsExports, "--backtest", "--out", "pages");
    const address = await watch.address();
    const news = await newsFrom(address);
    await expect.poll(() => String(news[0]?.version), LONG).toMatch(/\.1$/);
    const page = async () => (await fetch(address)).text();
    expect(await page()).toContain("cards-1.csv</body>");
    expect(watch.ran.out).toContain("run --quiet --backtest --report");

    workspace.write("exports/cards-2.csv", "anything");
    await expect.poll(() => String(news[0]?.version), LONG).toMatch(/\.2$/);
    expect(await page()).toContain("cards-1.csv,cards-2.csv</body>");
    expect(watch.ran.out).toMatch(/exports\/cards-2\.csv changed: pages written anew in \d+\.\d s\n/);

    workspace.configure("as_of: soon <b>");
    await expect.poll(() => String(news[0]?.failure), LONG).toContain('framelife.yaml, line 9 at "as_of"');
    expect(news[0]).toMatchObject({ version: expect.stringMatching(/\.2$/), writing: false });
    expect(await page(), "the last good pages").toContain("cards-2.csv");
    expect(watch.ran.err).toContain("Cannot use the configuration");

    workspace.configure(MORE);
    await expect.poll(() => news[0], LONG).toMatchObject({ failure: null, version: expect.stringMatching(/\.3$/) });
    expect(watch.ran.runs).toBe(4);
    await watch.end();
    expect(watch.ran.status).toBe(0);
    await expect(fetch(address)).rejects.toThrow();
    expect(existsSync(join(workspace.folder, "store/framelife.duckdb.watch"))).toBe(false);
  });

  it("names the first where a second is started on the same workspace, and the port where it is taken", async () => {
    const workspace = watchedWorkspace();
    const first = new Watch(workspace.folder, listsExports);
    const address = await first.address();
    const second = new Watch(workspace.folder, listsExports);
    await second.ended;
    expect(second.ran).toMatchObject({
      status: 1,
      err: `Cannot watch this workspace: it is being watched already, at ${address}; look there, or end that one`,
    });
    expect(existsSync(join(workspace.folder, "store/framelife.duckdb.watch")), "the first one's").toBe(true);
    const other = watchedWorkspace();
    const third = new Watch(other.folder, listsExports, "--port", new URL(address).port);
    await third.ended;
    expect(third.ran).toMatchObject({ status: 1, err: expect.stringContaining("another program has it") });
    expect(existsSync(join(other.folder, "store"))).toBe(false);
  });

  it.each([
    { left: "one that was killed", of: async () => ({ port: 1, key: "x" }) },
    { left: "nonsense", of: async () => "}" },
    {
      left: "one whose port another program has by now",
      of: async () => {
        const other = createServer((_, response) => response.end("other")).listen(0, "127.0.0.1");
        await new Promise((resolve) => other.once("listening", resolve));
        other.unref();
        return { port: (other.address() as AddressInfo).port, key: "x" };
      },
    },
  ])("passes over the claim of $left", async ({ of }) => {
    const workspace = watchedWorkspace();
    mkdirSync(join(workspace.folder, "store"));
    writeFileSync(join(workspace.folder, "store/framelife.duckdb.watch"), JSON.stringify(await of()));
    const watch = new Watch(workspace.folder, listsExports);
    await watch.address();
    await watch.end();
    expect(watch.ran.status).toBe(0);
  });

  it("serves no folder that holds something else", async () => {
    const workspace = watchedWorkspace();
    const watch = new Watch(workspace.folder, listsExports, "--out", "exports");
    await watch.ended;
    expect(watch.ran).toMatchObject({ status: 1, err: expect.stringContaining("it holds something else") });
  });

  it.each([
    { args: ["--pdf", "a.pdf"], says: "Cannot use --pdf with --watch" },
    { args: ["--paper", "A4"], says: "Cannot use --paper with --watch" },
    { args: ["--in-full"], says: "Cannot use --in-full with --watch" },
    { args: ["--single-file", "a.html"], says: "Cannot use --single-file with --watch" },
    { args: ["--as-of", "2024-01-01"], says: "Cannot use --as-of with --watch" },
    { args: ["--port", "0"], says: "a port is a whole number from 1 to 65535" },
    { args: ["--port", "80a"], says: "a port is a whole number from 1 to 65535" },
  ])("refuses $args", async ({ args, says }) => {
    const watch = new Watch("/", listsExports, ...args);
    await watch.ended;
    expect(watch.ran).toMatchObject({ status: 2, err: expect.stringContaining(says) });
  });

  it("alone has a port", async () => {
    const ran = await runProgram("/", "report", "--port", "4000");
    expect(ran).toMatchObject({ status: 2, err: expect.stringContaining("add --watch or leave it out") });
  });
});
