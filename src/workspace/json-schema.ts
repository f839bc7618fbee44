import * as z from "zod";
import { Configuration } from "./configuration.ts";
import { Pipeline } from "./pipeline.ts";

/** JSON Schemas of the two files that a user writes, for editors that complete YAML by them. */
export function jsonSchemas(): Record<string, unknown> {
  return {
    "framelife.schema.json": z.toJSONSchema(Configuration, { io: "input" }),
    "pipeline.schema.json": z.toJSONSchema(Pipeline, { io: "input" }),
  };
}
