import type { NamedPipeline } from "../workspace/workspace.ts";
import type { UnboundField } from "./mapping/check-pipeline.ts";

/** One export to read, or one sheet of it, by one pipeline. */
export type Job = {
  named: NamedPipeline;
  fields: UnboundField[];
  /** Relative to the workspace. */
  path: string;
  sheet?: string;
  /** Where it stands in the order of versions: place of the pipeline, of the pattern in it, of the sheet. */
  places: { pipeline: number; pattern: number; sheet: number };
  /** An export that lies no longer in its place, read again from its kept copy. */
  kept?: { fileId: number; sha256: string };
};
