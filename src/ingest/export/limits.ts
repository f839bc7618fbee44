// What one file may ask of the machine. Beyond these it is refused with a message that names the limit.

/**
 * Bytes of one record: 60 cells as long as a spreadsheet takes (32,767 characters), and what the engine's reader takes for one line if not
 * told otherwise. It keeps several in memory at once, so that a file without line ends must not be one record.
 */
export const RECORD_BYTES = 2_000_000;

/** Bytes of a record in JSON, which may hold a list of records, and of one text inside a workbook: what is in memory at once. */
export const GATHERED_BYTES = 64 * (1 << 20);

/** Columns, and rows of a sheet: what a spreadsheet itself takes (ECMA-376's cell references end at XFD1048576). */
export const MOST_COLUMNS = 16_384;
export const MOST_SHEET_ROWS = 1_048_576;

/** Columns without a header that a sheet may have beside those with one; cells further out count as too many. */
export const UNNAMED_COLUMNS = 256;

/** Records among which a header is looked for where no row is named. */
export const HEADER_WITHIN = 100;

/** How deep lists and objects may lie in each other in JSON. */
export const MOST_NESTED = 200;

/** Parts of a workbook; one of 300 sheets has some 1,000. */
export const MOST_PARTS = 10_000;

const FREE = 256 * (1 << 20);
const RATIO = 200;
const TABLE_RATIO = 2000;

/**
 * Bytes that packed ones may become: exports pack 4 to 40 times, a bomb 1,000 times. Below 256 MB any may.
 * Held against bytes really unpacked, for a declared size may lie.
 */
export function mostUnpacked(packed: number): number {
  return Math.max(FREE, RATIO * packed);
}

/** Bytes of text that a columnar file may become: a column of one value takes next to nothing there. */
export function mostText(packed: number): number {
  return Math.max(4 * FREE, TABLE_RATIO * packed);
}

/** A number of bytes as a message says it. */
export function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1e6).toLocaleString("en-US")} MB`;
}
