/** Cells of one outline: digits as 9, words as a ("99/99/9999"); behind a time of day, AM and PM as @, the zone Z as ~. */
export type Shape = {
  shape: string;
  count: number;
  /** Cells whose first number is over 12, whose second is, of which either can't be of a day or month. */
  firstOver12: number;
  secondOver12: number;
  impossible: number;
};

export type Word = { text: string; count: number };

/** Numbers of a column, read with the file's decimal mark; a unit behind a number left out. */
export type Numbers = {
  count: number;
  withUnit: number;
  decimals: number;
  low: number;
  low5: number;
  quarter: number;
  median: number;
  threeQuarters: number;
  high95: number;
  high: number;
};

/** What one column of an export holds. */
export type ColumnProfile = {
  /** From 1. */
  place: number;
  header: string;
  /** How a pipeline names it: by its header, or its place where the header is blank or stands twice. */
  key: string | number;
  filled: number;
  distinct: number;
  averageLength: number;
  /** Cells with no small letter in them, of those with any letter. */
  upper: number;
  lettered: number;
  /** Commonest first, blanks around them gone; 300 at most. */
  words: Word[];
  shapes: Shape[];
  /** Cells that dates with month names match, by pattern. */
  named: Record<string, number>;
  numbers: Numbers;
};

/** One export kind, of one or more files with the same header. */
export type TableProfile = {
  rows: number;
  /** Rows looked at, where not all. */
  sampled?: number;
  /** Rows with next to nothing in them: totals, ends of lists. */
  scant: Word[];
  columns: ColumnProfile[];
};
