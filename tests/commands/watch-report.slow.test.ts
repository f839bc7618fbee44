import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CARDS, ScratchWorkspace } from "../ingest/scratch-workspace.ts";
import { card, cards, LONG, MORE, newsFrom, theProgram, Watch, watchedWorkspace } from "./watching.ts";

describe("framelife report --watch", () => {
  it("serves the pages, writes them anew when an export changes, and tells of a fault until it is mended", async () => {
    const workspace = watchedWorkspace();
    const watch = new Watch(workspace.folder, theProgram);
    const address = await watch.address();
    expect(existsSync(join(workspace.folder, "store/framelife.duckdb.watch"))).toBe(true);
    const news = await newsFrom(address);
    await expect.poll(() => news[0], LONG).toMatchObject({ writing: false, failure: null });
    await expect.poll(() => String(news[0]?.version), LONG).toMatch(/\.1$/);
    const quality = async () => (await fetch(`${address}data-quality.html`)).text();
    expect(await quality()).not.toContain("cards-2.csv");
    expect(watch.ran.out).toContain("3 rows in 1 file: 3 became records");

    workspace.write("exports/cards-2.csv", cards(card(4)));
    await expect.poll(() => String(news[0]?.version), LONG).toMatch(/\.2$/);
    expect(await quality()).toContain("cards-2.csv");
    expect(watch.ran.out).toMatch(/exports\/cards-2\.csv changed: pages written anew in \d+\.\d s\n/);

    workspace.configure("as_of: soon <b>");
    await expect.poll(() => String(news[0]?.failure), LONG).toContain('framelife.yaml, line 9 at "as_of"');
    expect(news[0]).toMatchObject({ version: expect.stringMatching(/\.2$/), writing: false });
    expect(await quality(), "the last good pages").toContain("cards-2.csv");
    expect(watch.ran.err).toContain("Cannot use the configuration");

    workspace.configure(MORE);
    await expect.poll(() => news[0], LONG).toMatchObject({ failure: null, version: expect.stringMatching(/\.3$/) });
    expect(watch.ran.runs).toBe(4);
    await watch.end();
    expect(watch.ran.status).toBe(0);
    await expect(fetch(address)).rejects.toThrow();
    expect(existsSync(join(workspace.folder, "store/framelife.duckdb.watch"))).toBe(false);
    // Pages on disk know nothing of a server.
    const page = readFileSync(join(workspace.folder, "report/data-quality.html"), "utf8");
    expect(page).not.toMatch(/connect-src|live-reload/);
  });

  it("begins with a workspace whose exports can't be read, and goes on when they can", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards-1.csv": "" });
    workspace.configure(MORE);
    const watch = new Watch(workspace.folder, theProgram);
    const address = await watch.address();
    const news = await newsFrom(address);
    await expect.poll(() => String(news[0]?.failure), LONG).toContain("cards-1.csv: the file is empty");
    expect(await (await fetch(address)).text()).toContain("The report is being written");
    workspace.write("exports/cards-1.csv", cards(card(1)));
    await expect.poll(() => news[0], LONG).toMatchObject({ failure: null, version: expect.stringMatching(/\.1$/) });
  });

  it("writes pages of exports over the limit too, and says where to look", async () => {
    const workspace = watchedWorkspace();
    const watch = new Watch(workspace.folder, theProgram);
    const news = await newsFrom(await watch.address());
    await expect.poll(() => String(news[0]?.version), LONG).toMatch(/\.1$/);
    workspace.write("exports/cards-1.csv", cards(card(1), "9,FA-9,31/02/2023,,,failed,5,Y,bad", "8,,,,,,,,"));
    await expect.poll(() => news[0], LONG).toMatchObject({ failure: null, version: expect.stringMatching(/\.2$/) });
    expect(watch.ran.out).toMatch(/written anew in .* s; look at http:.*data-quality\.html\n/);
  });
});
