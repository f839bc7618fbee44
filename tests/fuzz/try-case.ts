import {
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { type Ran, runProgram } from "../commands/run-program.ts";
import { storeFaults } from "../soak/store-checks.ts";
import type { FuzzCase } from "./fuzz-case.ts";
import { CONFIGURATION, SAMPLES } from "./sample-files.ts";
import type { Outside } from "./sql-texts.ts";

/** Stands in a file outside and in the environment; it must never come to light. */
const SECRET = "kept-to-ourselves-7041";

const STORE = "store/framelife.duckdb";

export type Outcome = { kind: string; accepted: boolean; faults: string[] };

type Reading = Extract<FuzzCase, { files: unknown }>;

/** A place for cases: a folder for workspaces, one beside it that nothing may touch, and a workspace that is asked. */
export class Ground {
  readonly outside: Outside;
  readonly root: string;
  private readonly asked: string;

  constructor(root: string) {
    this.root = realpathSync(root);
    this.outside = { folder: join(this.root, "outside"), file: join(this.root, "outside/secret.csv") };
    this.asked = join(this.root, "asked");
    put(this.root, { "outside/secret.csv": `a,b\n${SECRET},1\n` });
    for (const folder of ["temporary", "home"]) mkdirSync(join(this.root, folder), { recursive: true });
    process.env["TMPDIR"] = join(this.root, "temporary");
    process.env["HOME"] = join(this.root, "home");
    process.env["FRAMELIFE_FUZZ_SECRET"] = SECRET;
  }

  async try(one: FuzzCase): Promise<Outcome> {
    const faults: string[] = [];
    const accepted = "ask" in one ? await this.ask(one.ask, faults) : await this.read(one, faults);
    return { kind: one.kind, accepted, faults };
  }

  private async read({ files, afterwards }: Reading, faults: string[]): Promise<boolean> {
    const folder = mkdtempSync(join(this.root, "case-"));
    try {
      put(folder, files);
      const before = this.everything(folder);
      const ingested = await runProgram(folder, "ingest");
      judge("ingest", ingested, faults);
      const accepted = ingested.status !== 1 && ingested.status !== 2;
      if (accepted) {
        for (const args of afterwards) judge(args.join(" "), await runProgram(folder, ...args), faults);
        faults.push(...(await outsideFiles(folder)));
      }
      faults.push(...(await storeFaults(folder)));
      const file = Object.keys(files).find((path) => path.startsWith("exports/"));
      if (file !== undefined && afterwards.length > 1) judge("map", await runProgram(folder, "map", file), faults);
      faults.push(...changes(before, this.everything(folder)));
      return accepted;
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }

  private async ask(args: string[], faults: string[]): Promise<boolean> {
    if (!existsSync(this.asked)) {
      const { csv } = SAMPLES;
      put(this.asked, {
        "framelife.yaml": CONFIGURATION,
        "pipelines/export.yaml": csv.pipeline,
        [`exports/${csv.file}`]: "text" in csv ? csv.text : "",
      });
      const made = await runProgram(this.asked, "ingest");
      if (made.status !== 0) throw new Error(`Cannot make the workspace that is asked: ${made.err}`);
    }
    const before = this.everything();
    const ran = await runProgram(this.asked, ...args);
    judge(args[0]!, ran, faults);
    if (!args[0]!.startsWith("query") && ran.status === 0) JSON.parse(ran.out);
    faults.push(...changes(before, this.everything()));
    if (faults.length > 0) rmSync(this.asked, { recursive: true });
    return ran.status === 0;
  }

  /** All files but those in the store of one workspace, as they are now. */
  private everything(workspace?: string): Map<string, string> {
    const store = workspace === undefined ? undefined : join(workspace, "store");
    const all = new Map<string, string>();
    for (const entry of readdirSync(this.root, { recursive: true, withFileTypes: true })) {
      const path = join(entry.parentPath, entry.name);
      if (store !== undefined && (path === store || path.startsWith(`${store}/`))) continue;
      const { size, mtimeMs, ino } = lstatSync(path);
      all.set(path, entry.isDirectory() ? "folder" : `${size} ${mtimeMs} ${ino}`);
    }
    return all;
  }
}

/** Writes files into a folder. */
export function put(folder: string, files: Record<string, string | Buffer>): void {
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
}

/** What no input may bring about. */
function judge(what: string, { status, out, err }: Ran, faults: string[]): void {
  if (/fault of the program|^ {4}at /m.test(err)) faults.push(`${what} crashed: ${err}`);
  if (/INTERNAL Error|FATAL Error|database has been invalidated/i.test(err))
    faults.push(`${what}: the engine broke: ${err}`);
  if (status !== 0 && status !== 3 && err === "" && out === "")
    faults.push(`${what} ended with ${status} and said nothing`);
  if (out.includes(SECRET)) faults.push(`${what} told what stands outside: ${out}`);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what a terminal obeys
  if (/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/.test(out + err))
    faults.push(`${what} sent a terminal what it obeys: ${JSON.stringify(err + out)}`);
}

/** `aliases.csv` is kept by hand and by the ingest, which puts near misses there. */
function changes(before: Map<string, string>, after: Map<string, string>): string[] {
  return [...new Set([...before.keys(), ...after.keys()])]
    .filter((path) => before.get(path) !== after.get(path) && !path.endsWith("/aliases.csv"))
    .map((path) => `touched ${path}: ${before.get(path) ?? "not there"}, then ${after.get(path) ?? "not there"}`);
}

/** Exports that were read though they lie outside the workspace. */
async function outsideFiles(folder: string): Promise<string[]> {
  if (!existsSync(join(folder, STORE))) return [];
  const store = await openStore(join(folder, STORE), "read");
  try {
    const found = await rows(store.connection, "select path from landing.file where path like '..%' or path like '/%'");
    return found.map(({ path }) => `read ${path}`);
  } finally {
    store.close();
  }
}

/** The files of a case as they were tried, so that they can be looked at. */
export function keepCase(folder: string, one: FuzzCase): void {
  if ("files" in one) put(folder, one.files);
  else put(folder, { "arguments.json": JSON.stringify(one.ask) });
}
