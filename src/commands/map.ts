import { existsSync, writeFileSync } from "node:fs";
import { basename, relative, resolve, sep } from "node:path";
import { Command, Option } from "commander";
import { UserError } from "../errors.ts";
import type { DraftFleet } from "../ingest/draft/draft.ts";
import type { FleetContext } from "../ingest/draft/guess-fleet.ts";
import type { MapAnswer } from "../ingest/draft/map-answer.ts";
import type { RecordKind } from "../ingest/mapping/canonical-fields.ts";
import type { Settings } from "../workspace/workspace.ts";
import { namedFolder } from "./open-records.ts";
import { printable, printableJson } from "./printable.ts";
import type { Surroundings } from "./surroundings.ts";

type MapOptions = { name?: string; sheet?: string; record?: RecordKind; out?: string; json?: true };

const RECORDS: RecordKind[] = ["rebuild", "reading", "unit", "retirement", "stock", "part", "bearing"];

/** `framelife map`: a pipeline drafted from an unknown export. */
export function mapCommand(around: Surroundings): Command {
  const command = new Command("map")
    .description("draft a pipeline for an unknown export, with the evidence for each guess; nothing is ingested")
    .argument("<file>", "csv, tsv, xlsx, json, ndjson, parquet; text kinds also packed as .gz")
    .option("--name <name>", "name of the pipeline; by the file's name if not given")
    .option("--sheet <sheet>", "sheet of a workbook, by name or number; all that hold the same table if not given")
    .addOption(new Option("--record <kind>", "what its rows are, where they don't tell").choices(RECORDS))
    .option("--out <file>", "write the draft to this file, never over one that is there; else it is printed")
    .option("--json", "print the answer as JSON, the draft in it");
  return command.action(async (file: string, options: MapOptions) => {
    const out = options.out === undefined ? undefined : freshPath(around, options.out);
    const answer = await ask(around, await settingsNear(around, command), file, options);
    if (out !== undefined) writeFileSync(out, answer.pipeline, { flag: "wx" });
    around.print(options.json ? printableJson(answer, 2) : textOf(answer, options.out));
  });
}

function freshPath(around: Surroundings, name: string): string {
  const path = resolve(around.folder, name);
  if (!existsSync(path)) return path;
  throw new UserError(`Cannot write the draft to ${name}: the file is there already; name another with --out`);
}

/** The draft itself with the answer as its first line, so that it can be sent to a file; or where it was written, and what is open. */
function textOf({ answer, pipeline, questions }: MapAnswer, out: string | undefined): string {
  if (out === undefined) return `# ${printable(answer)}\n${pipeline.trimEnd()}`;
  const open = questions.map(({ text }) => `  ${printable(text)}`);
  return [printable(answer), `The draft is in ${out}.`, ...(open.length > 0 ? ["To confirm:", ...open] : [])].join(
    "\n",
  );
}

async function ask(
  around: Surroundings,
  settings: Settings | undefined,
  file: string,
  { name, sheet, record }: MapOptions,
) {
  const [{ mapFile }, { nameOf }] = await Promise.all([
    import("../ingest/draft/map-file.ts"),
    import("../ingest/draft/fleet-name.ts"),
  ]);
  const path = resolve(around.folder, file);
  if (name !== undefined && nameOf(name, "") !== name)
    throw new UserError(
      `Cannot name a pipeline "${name}": a name is lower-case letters, digits and -, and begins with a letter`,
      2,
    );
  const stem = basename(file).replace(/(\.[^.]+?)(\.gz)?$/i, "");
  return mapFile({
    file: {
      path,
      shownPath: file,
      name: nameIn(settings?.folder ?? around.folder, path),
      ...(sheet === undefined ? {} : { sheets: [/^\d+$/.test(sheet) ? Number(sheet) : sheet] }),
    },
    name: name ?? nameOf(stem, "export"),
    engine: around,
    fleet: fleetOf(settings),
    ...(settings === undefined ? {} : { slots: Object.keys(settings.configuration.slots) }),
    ...(record === undefined ? {} : { record }),
  });
}

/** How a pipeline of a workspace names a file: relative to it, with "/" between folders. */
function nameIn(folder: string, path: string): string {
  return relative(folder, path).split(sep).join("/");
}

/** The workspace around, if there is one: its fleets and slots are those that the draft may name. */
async function settingsNear(around: Surroundings, command: Command): Promise<Settings | undefined> {
  const [{ findWorkspace }, { readSettings }] = await Promise.all([
    import("../workspace/find-workspace.ts"),
    import("../workspace/workspace.ts"),
  ]);
  const { folder } = namedFolder(command);
  if (folder !== undefined) return readSettings(resolve(around.folder, folder));
  let found: string;
  try {
    found = findWorkspace(around.folder);
  } catch (error) {
    if (error instanceof UserError) return undefined;
    throw error;
  }
  return readSettings(found);
}

function fleetOf(settings: Settings | undefined): FleetContext {
  const known: DraftFleet[] = (settings?.configuration.fleets ?? []).map(({ name, title }) => ({ name, title }));
  return { known, otherwise: known[0] ?? { name: "main", title: "Main" }, isPlain: known.length === 1 };
}
