import { aliased } from "../aliases/alias-sql.ts";
import { corrected } from "../corrections/correction-sql.ts";
import type { OpenExport } from "../export/open-export.ts";
import type { Cells } from "./field-plan.ts";
import { fieldSql } from "./field-sql.ts";
import type { Mapped, Staging } from "./staging.ts";

/** The fields of a pipeline as SQL on the columns of an export. */
export function mappedFields(source: OpenExport, staging: Staging): Mapped[] {
  const { plans, marks, known, layout } = staging;
  const { format } = source.reading;
  const measure = plans.find(({ key, cell }) => layout === "measured" && key === "measure" && cell !== undefined);
  const cells: Cells = {
    marks,
    known,
    lineEnds: source.quotedNewlines,
    ascii: source.ascii === true,
    withoutErrors: source.withoutErrors === true,
    trueDates: format === "xlsx" || format === "parquet",
    ...(source.dateSystem === undefined ? {} : { dateSystem: source.dateSystem }),
    ...(measure?.cell === undefined ? {} : { measureCell: measure.cell }),
  };
  const mapped = plans.map((plan) => ({ plan, sql: fieldSql(plan, cells) }));
  return aliased(corrected(mapped, staging, cells), known);
}
