import type { HandRow } from "../hand-table.ts";
import type { RecordKind } from "../mapping/canonical-fields.ts";

/** What the corrections file says of each. */
export const CORRECTION_COLUMNS = ["record", "fleet", "id", "field", "old", "new", "reason", "by"] as const;
export type CorrectionRow = HandRow<(typeof CORRECTION_COLUMNS)[number]>;

/** One value of a record that stands wrong in an export, and what is to be read in its place. */
export type Correction = {
  /** As the corrections file shows it. */
  line: number;
  record: RecordKind;
  /** "" where the id is enough. */
  fleet: string;
  /** Number of the card, of the unit, or of the part; of a reading that of its unit. */
  id: string;
  /** Of a count of stock, where it says so: the place. */
  place?: string;
  /** Of a reading, or of a count of stock where it says so, its day, YYYY-MM-DD or as the cell has it. */
  day?: string;
  /** As pipelines name it; of a slot's fields with the slot before it: "drive_end_bearings.condition". */
  field: string;
  /** As the cell's text stands in the export; "" where it is blank. */
  old: string;
  new: string;
  reason: string;
  /** Who says so. */
  by: string;
  /** Why and by whom, as changes say it: "line 3 of corrections.csv: the shop rang up (store)". */
  because: string;
};

/** What tells a record, as the corrections file writes it. */
export function correctionId({ record, id, place, day }: Pick<Correction, "record" | "id" | "place" | "day">): string {
  const parts = [id, place, day].filter((part) => part !== undefined);
  return parts.join(record === "stock" ? " | " : " ");
}

/** The corrections of a workspace, and the file that they stand in. */
export type Corrections = { name: string; lines: Correction[] };
