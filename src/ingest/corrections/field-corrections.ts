import type { Correction } from "./correction.ts";

/** A correction of one field, in SQL: whether a row is the one that it means, and what of its cell. */
export type CorrectionLine = { correction: Correction; meant: string; isOld: string; isNew: string; isOther: string };

/** The corrections of a field. `stages`: the columns by which rows are told, to be made before all others. */
export type FieldCorrections = { lines: CorrectionLine[]; stages: [string, string][][] };
