import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { once } from "node:events";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { UserError } from "../../src/errors.ts";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { packageFile } from "../../src/workspace/package-file.ts";

let folder: string;
let path: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-store-"));
  path = join(folder, "a/b/framelife.duckdb");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const brief = { waitMs: 200, retryMs: 20 };

async function made(): Promise<void> {
  (await openStore(path, "write")).close();
}

/** Another process that holds the store until it is told to let go. */
async function holder(access: "read" | "write"): Promise<ChildProcess> {
  const options = access === "read" ? '{ access_mode: "READ_ONLY" }' : "{}";
  const script = `import { DuckDBInstance } from "@duckdb/node-api";
    const held = await DuckDBInstance.create(${JSON.stringify(path)}, ${options});
    process.stdin.on("data", () => { held.closeSync(); process.exit(0); });
    console.log("held");`;
  const child = spawn(process.execPath, ["--input-type=module", "-e", script], { cwd: packageFile(".") });
  await once(child.stdout, "data");
  return child;
}

async function letGo(child: ChildProcess): Promise<void> {
  child.stdin?.write("go\n");
  await once(child, "exit");
}

describe("openStore()", () => {
  it("makes the store and its folder, once", async () => {
    await made();
    const store = await openStore(path, "write");
    expect(await rows(store.connection, "select schema_version from landing.version")).toEqual([{ schema_version: 4 }]);
    store.close();
    store.close(); // closing twice does nothing
  });

  it("to read reaches nothing but the store, yet takes temp tables", async () => {
    await made();
    const { connection, close } = await openStore(path, "read");
    await connection.run("create temp table t as select 1 as a");
    expect(await rows(connection, "from t")).toEqual([{ a: 1 }]);
    await expect(connection.run("insert into landing.version values (2)")).rejects.toThrow("read-only");
    await expect(connection.run(`from read_csv('${packageFile("package.json")}')`)).rejects.toThrow(
      "disabled by configuration",
    );
    await expect(connection.run("set threads = 1")).rejects.toThrow("locked");
    await expect(connection.run(`attach '${join(folder, "x.duckdb")}'`)).rejects.toThrow();
    close();
  });

  it("says that there is no store yet, or that it is a folder, and what to do", async () => {
    await expect(openStore(path, "read")).rejects.toThrow(UserError);
    await expect(openStore(path, "read")).rejects.toThrow("there is no store yet at");
    await expect(openStore(path, "read")).rejects.toThrow('run "framelife ingest"');
    for (const access of ["read", "write"] as const) {
      await expect(openStore(folder, access)).rejects.toThrow("is a folder; name a file");
    }
  });

  it("refuses a file of another kind", async () => {
    const text = join(folder, "notes.txt");
    writeFileSync(text, "not a database".repeat(1000));
    await expect(openStore(text, "write")).rejects.toThrow("is not a store, or is damaged; name another file");
  });

  it("refuses a database of another kind", async () => {
    const other = join(folder, "other.duckdb");
    const instance = await DuckDBInstance.create(other);
    const connection = await instance.connect();
    await connection.run("create table parts (a integer)");
    connection.closeSync();
    instance.closeSync();
    for (const access of ["read", "write"] as const) {
      await expect(openStore(other, access)).rejects.toThrow("is a database of another kind");
    }
  });

  it("refuses a store of a later version, and leaves it free", async () => {
    const store = await openStore(path, "write");
    await store.connection.run("update landing.version set schema_version = 7");
    store.close();
    await expect(openStore(path, "write")).rejects.toThrow(
      "has schema version 7, this program knows versions up to 4; update framelife",
    );
    await expect(openStore(path, "read", brief)).rejects.toThrow("schema version 7");
  });

  it.each([
    ["read", "write"],
    ["write", "write"],
    ["write", "read"],
  ] as const)("to %s names the process that holds the store to %s, after waiting", async (access, held) => {
    await made();
    const child = await holder(held);
    const began = Date.now();
    const opening = openStore(path, access, brief);
    await expect(opening).rejects.toThrow(
      new RegExp(`${path} is in use by process ${child.pid} \\(.*\\); wait until it is done`),
    );
    expect(Date.now() - began).toBeGreaterThanOrEqual(200);
    await letGo(child);
    (await openStore(path, access, brief)).close();
  });

  it("waits for a writer that is soon done", async () => {
    await made();
    const child = await holder("write");
    const opening = openStore(path, "read");
    setTimeout(() => child.stdin?.write("go\n"), 300);
    (await opening).close();
  });

  it("lets readers in beside each other", async () => {
    await made();
    const child = await holder("read");
    const [one, two] = await Promise.all([openStore(path, "read"), openStore(path, "read")]);
    one.close();
    two.close();
    await letGo(child);
  });

  it("keeps a second writer out inside one process too, where the engine would not", async () => {
    const store = await openStore(path, "write");
    await expect(openStore(path, "write", brief)).rejects.toThrow("in use by this very process");
    await expect(openStore(path, "read", brief)).rejects.toThrow("in use by this very process");
    store.close();
    (await openStore(path, "read", brief)).close();
  });

  it("leaves a store alone that another process has just made", async () => {
    mkdirSync(dirname(path), { recursive: true });
    const child = await holder("write"); // makes the file, and holds it
    await expect(openStore(path, "write", brief)).rejects.toThrow(/in use by/);
    expect(existsSync(path)).toBe(true);
    await letGo(child);
  });

  it("leaves nothing behind of a store that could not be made", async () => {
    const long = join(folder, `${"x".repeat(255)}.duckdb`); // over the 255 bytes that file names may have
    await expect(openStore(long, "write", brief)).rejects.toThrow(UserError);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("says what the system says where the folder can't be made", async () => {
    const file = join(folder, "file");
    writeFileSync(file, "");
    await expect(openStore(join(file, "x.duckdb"), "write")).rejects.toThrow(
      /Cannot make the store .*(ENOTDIR|EEXIST)/,
    );
  });

  describe("with little memory", () => {
    const rowsOf = "select range as x, md5(range::varchar) as y from range(600000)";
    const beside = () => readdirSync(dirname(path));

    it.each(["read", "write"] as const)(
      "to %s puts aside beside the store what does not fit, and takes it away",
      async (access) => {
        await made();
        const store = await openStore(path, access, { memory: 40e6 });
        const seen = new Set<string>();
        const looking = setInterval(() => beside().forEach((name) => void seen.add(name)), 5);
        await store.connection.run(`create temp table big as ${rowsOf} order by y`);
        clearInterval(looking);
        store.close();
        expect(
          [...seen].filter((name) => /^framelife\.duckdb\.spill-[0-9a-f]{8}-\d+-[0-9a-f]{12}$/.test(name)),
        ).toHaveLength(1);
        expect(beside()).toEqual(["framelife.duckdb"]);
      },
    );

    it("keeps to what was said", async () => {
      await made();
      const store = await openStore(path, "read", { memory: 100e6 });
      // 100,000,000 / 1,048,576 = 95.37
      expect(await rows(store.connection, "select current_setting('memory_limit') as m")).toEqual([{ m: "95.3 MiB" }]);
      store.close();
    });

    it("gives back to the system what it has let go of, without waiting for half a gigabyte of it", async () => {
      await made();
      const store = await openStore(path, "read");
      const said = `select current_setting('allocator_background_threads') as soon,
                           current_setting('allocator_flush_threshold') as flushed,
                           current_setting('allocator_bulk_deallocation_flush_threshold') as at_once`;
      expect(await rows(store.connection, said)).toEqual([{ soon: true, flushed: "16.0 MiB", at_once: "16.0 MiB" }]);
      store.close();
    });

    it("says at once where it is too little to open a store", async () => {
      await made();
      await expect(openStore(path, "read", { memory: 1 })).rejects.toThrow(/memory limit of 1 byte.*--memory 2GB/);
      (await openStore(path, "write")).close();
    });

    it("to write takes away what killed processes left, and nothing else", async () => {
      await made();
      const left = [
        "framelife.duckdb.spill-1-0123456789ab",
        "framelife.duckdb.spill-01234567-1-0123456789ab",
        "framelife.duckdb.tmp",
      ];
      const others = ["other.duckdb.spill-1-0123456789ab", "framelife.duckdb.spill-notes", "exports"];
      for (const name of [...left, ...others]) mkdirSync(join(dirname(path), name));
      (await openStore(path, "read")).close();
      expect(beside()).toEqual(expect.arrayContaining([...left, ...others]));
      (await openStore(path, "write")).close();
      expect(beside().sort()).toEqual([...others, "framelife.duckdb"].sort());
    });

    it("to read takes away what processes of this machine left that run no longer", async () => {
      await made();
      const here = createHash("sha256").update(hostname()).digest("hex").slice(0, 8);
      const { pid: gone } = spawnSync(process.execPath, ["--version"]);
      const of = (machine: string, pid: number) => `framelife.duckdb.spill-${machine}-${pid}-0123456789ab`;
      const [left, running, elsewhere] = [of(here, gone), of(here, process.pid), of("01234567", gone)];
      for (const name of [left, running, elsewhere]) mkdirSync(join(dirname(path), name));
      (await openStore(path, "read")).close();
      expect(beside().sort()).toEqual(["framelife.duckdb", running, elsewhere].sort());
    });
  });
});
