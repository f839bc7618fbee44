import { createHash } from "node:crypto";
import { MM_PER } from "../workspace/lengths.ts";
import { severitiesOf } from "../workspace/rules.ts";
import type { NamedPipeline, Workspace } from "../workspace/workspace.ts";
import { type AcceptedAliases, acceptedAliases } from "./aliases/accepted-aliases.ts";
import type { Alias } from "./aliases/alias.ts";
import { readAliases } from "./aliases/read-aliases.ts";
import type { Corrections } from "./corrections/correction.ts";
import { readCorrections } from "./corrections/read-corrections.ts";
import { CANONICAL_FIELDS } from "./mapping/canonical-fields.ts";
import type { Known } from "./mapping/field-plan.ts";

/** A workspace whose pipelines have the hash that their aliases and corrections give them, and what is known when exports are read. */
export type Amended = { workspace: Workspace; known: Known; aliases: Alias[] };

/**
 * The workspace with what people say of its exports: pipelines of records that an accepted alias or a correction may change have another
 * hash, so that their exports are read anew when those change; all others are as they were.
 * @param today - YYYY-MM-DD
 * @throws UserError with line and remedy if the aliases or corrections file is at fault
 */
export async function amended(workspace: Workspace, today: string): Promise<Amended> {
  const plain = knownOf(workspace, today);
  const { aliases, accepted, corrections } = await amendmentsOf(workspace, plain);
  const known = { ...plain, aliases: accepted, ...(corrections === undefined ? {} : { corrections }) };
  const pipelines = workspace.pipelines.map((named) => withHash(named, accepted, corrections));
  return { workspace: { ...workspace, pipelines }, known, aliases };
}

/**
 * The pipelines of the workspace with those hashes.
 * @throws UserError with line and remedy if the aliases or corrections file is at fault
 */
export async function amendedPipelines(workspace: Workspace): Promise<NamedPipeline[]> {
  const { accepted, corrections } = await amendmentsOf(workspace, namesOf(workspace));
  return workspace.pipelines.map((named) => withHash(named, accepted, corrections));
}

type Names = Pick<Known, "fleets" | "slots">;
type Amendments = { aliases: Alias[]; accepted: AcceptedAliases; corrections: Corrections | undefined };

async function amendmentsOf({ folder }: Workspace, names: Names): Promise<Amendments> {
  const aliases = await readAliases(folder, names.fleets);
  return { aliases, accepted: acceptedAliases(aliases), corrections: await readCorrections(folder, names) };
}

function namesOf({ configuration }: Workspace): Names {
  return {
    fleets: configuration.fleets.map(({ name }) => name),
    slots: Object.keys(configuration.slots),
  };
}

function knownOf(workspace: Workspace, today: string): Known {
  const { configuration } = workspace;
  const window = configuration.windows.end_play;
  const usual =
    window !== undefined && window.low > 0 ? Math.sqrt(window.low * window.high) * MM_PER[window.unit] : undefined;
  return {
    ...namesOf(workspace),
    today,
    severities: severitiesOf(configuration.rules),
    ...(usual === undefined ? {} : { usualEndPlay: usual }),
  };
}

function withHash(
  named: NamedPipeline,
  accepted: AcceptedAliases,
  corrections: Corrections | undefined,
): NamedPipeline {
  const { record } = named.pipeline;
  const aliases = "unit" in CANONICAL_FIELDS[record] ? [...accepted].map(([fleet, own]) => [fleet, ...own]) : [];
  const lines = (corrections?.lines ?? []).filter((correction) => correction.record === record);
  if (aliases.length === 0 && lines.length === 0) return named;
  const said = JSON.stringify([aliases, corrections?.name, lines]);
  return { ...named, sha256: createHash("sha256").update(named.sha256).update(said).digest("hex") };
}
