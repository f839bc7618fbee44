import type { ExportFormat } from "../export-format.ts";
import type { FleetPlan } from "../fleet-plan.ts";
import { longMm } from "./long-mm.ts";
import { plain } from "./plain.ts";
import { wideInch } from "./wide-inch.ts";
import { wideThou } from "./wide-thou.ts";

const FORMATS: Record<FleetPlan["format"], ExportFormat> = {
  wide_thou: wideThou,
  long_mm: longMm,
  wide_inch: wideInch,
  plain,
};

/** How the owner of a fleet writes its exports. */
export function formatOf({ format }: FleetPlan): ExportFormat {
  return FORMATS[format];
}
