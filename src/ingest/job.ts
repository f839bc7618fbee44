import type { NamedPipeline } from "../workspace/workspace.ts";
import type { UnboundField } from "./mapping/check-pipeline.ts";

/** One export to read, by one pipeline. */
export type Job = { named: NamedPipeline; fields: UnboundField[] /** Relative to the workspace. */; path: string };
