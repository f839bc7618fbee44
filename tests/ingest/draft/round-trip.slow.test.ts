import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { questionsOf } from "../../../src/ingest/draft/draft.ts";
import { withExports } from "../../../src/ingest/draft/map-file.ts";
import { writeDraft } from "../../../src/ingest/draft/write-draft.ts";
import { ingest } from "../../../src/ingest/ingest.ts";
import { openStore, type Store } from "../../../src/store/open-store.ts";
import { rows } from "../../../src/store/rows.ts";
import { packageFile } from "../../../src/workspace/package-file.ts";
import { readWorkspace } from "../../../src/workspace/workspace.ts";

/** The last is the shop's own, whose lists name no fleet. */
const OWNERS = ["saltmere", "ostrel", "vennick", "quillhaven"];
const sample = packageFile("sample-data");
const configuration = readFileSync(join(sample, "framelife.yaml"), "utf8");

let folder = "";
const asked = new Map<string, string[]>();
const stores: Store[] = [];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-round-trip-"));
  for (const name of ["by-hand", "drafted"])
    cpSync(join(sample, "exports"), join(folder, name, "exports"), { recursive: true });
  const drafted = join(folder, "drafted");
  mkdirSync(join(drafted, "pipelines"));
  const pipelines: string[] = [];
  for (const owner of OWNERS) pipelines.push(...(await draftOwner(drafted, owner)));
  writeFileSync(join(folder, "by-hand/framelife.yaml"), configuration);
  writeFileSync(
    join(drafted, "framelife.yaml"),
    configuration.replace(/^pipelines:[\s\S]*/m, `pipelines: [${pipelines.join(", ")}]\n`),
  );
  for (const name of ["by-hand", "drafted"]) {
    const workspace = readWorkspace(join(folder, name));
    const store = await openStore(workspace.storePath, "write");
    stores.push(store);
    await ingest(workspace, store.connection, { today: "2025-01-10" });
  }
});
afterAll(() => {
  for (const store of stores) store.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Drafts the exports of an owner as they lie there, every guess taken as it is. */
async function draftOwner(workspace: string, owner: string): Promise<string[]> {
  const exports = join(workspace, "exports", owner);
  return withExports(async (kinds) => {
    const files = readdirSync(exports).toSorted();
    await kinds.add(
      files.map((file) => ({ path: join(exports, file), shownPath: file, name: `exports/${owner}/${file}` })),
    );
    const names: string[] = [];
    for (const [index, kind] of kinds.kinds.entries()) {
      const name = `${owner}-${index}`;
      const draft = await kinds.draft(kind, {
        name,
        fleet: { known: [], otherwise: { name: owner, title: owner }, isPlain: true },
        answers: {},
      });
      writeFileSync(join(workspace, "pipelines", `${name}.yaml`), writeDraft(draft));
      asked.set(owner, [...(asked.get(owner) ?? []), ...questionsOf(draft).map(({ id }) => id)]);
      names.push(name);
    }
    return names;
  });
}

async function lines(store: Store, sql: string): Promise<string[]> {
  const found = await rows(store.connection, `select columns(*)::varchar from (${sql}) order by all`);
  return found.map((row) => JSON.stringify(row));
}

describe("drafts of the sample's exports", () => {
  it.each([
    { record: "rebuild", least: 900 },
    { record: "fitting", least: 4500 },
    { record: "unit", least: 90 },
    { record: "reading", least: 2300 },
    { record: "retirement", least: 9 },
    { record: "part", least: 10 },
    { record: "stock", least: 38 },
  ])("give the same records as the pipelines written by hand: $record", async ({ record, least }) => {
    const sql = `select * exclude (file_id, row) from records.${record}`;
    const [byHand, drafted] = [await lines(stores[0]!, sql), await lines(stores[1]!, sql)];
    expect(byHand.length).toBeGreaterThanOrEqual(least);
    expect(drafted.filter((line) => !byHand.includes(line)).slice(0, 3)).toEqual([]);
    expect(drafted).toEqual(byHand);
  });

  it("end every row of every file in the same way", async () => {
    const sql =
      "select path, rows_read, not_data, quarantined, duplicate, superseded, corrected, accepted, refused_values from landing.account";
    expect(await lines(stores[1]!, sql)).toEqual(await lines(stores[0]!, sql));
  });

  it("ask what the files themselves do not tell, and nothing else", () => {
    expect(Object.fromEntries(OWNERS.map((owner) => [owner, asked.get(owner)?.toSorted()]))).toEqual({
      saltmere: ["files.order", "reason.words.see back of card", "removed_on.dates"],
      ostrel: ["files.order", "reason.words.siehe anhang", "reason.words.wie besprochen"],
      vennick: [
        "drive_end_bearings.slot",
        "drive_end_seals.slot",
        "files.order",
        "fitted.words.-",
        "pump_end_bearing.slot",
        "pump_end_seals.slot",
        "reason.words.ask yard",
        "reason.words.customer says",
        "removed_on.column", // "returned" may be to the shop or into service
      ],
      quillhaven: [],
    });
  });
});
