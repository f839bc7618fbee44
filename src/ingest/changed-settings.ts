import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { type NamedPipeline, readPipeline, type Settings } from "../workspace/workspace.ts";
import { amendedPipelines } from "./amended.ts";

/**
 * The pipelines whose exports were read by other settings than there are now: the pipeline itself, what the configuration lets it name, or
 * what aliases and corrections say of its records has changed since.
 * @throws UserError if one of these files is at fault
 */
export async function changedSettings(connection: DuckDBConnection, settings: Settings): Promise<NamedPipeline[]> {
  const pipelines = settings.configuration.pipelines.map((name) => readPipeline(settings, name));
  const now = await amendedPipelines({ ...settings, pipelines });
  const { pipeline, sha256 } = await columns(
    connection,
    "select distinct pipeline, pipeline_sha256 as sha256 from landing.file",
    { pipeline: "text", sha256: "text" },
  );
  return now.filter((named) => pipeline.some((name, at) => name === named.name && sha256[at] !== named.sha256));
}
