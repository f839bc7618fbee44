import type { CardRecord, ReadingRecord, RetirementRecord, UnitRecord } from "./records.ts";

/** A column of an export: its header, the field of ours that it carries, and the owner's way of writing it. */
export type Column<Row> = { header: string; field: string; text: (row: Row) => string };

/** A card, or in long exports a card and one of its slots. */
export type CardRow = { card: CardRecord; slot: string };

type Table<Row> = { file: string; columns: Column<Row>[] };

/** How an owner writes things that are wrong. */
export type Slips = {
  dates: string[];
  words: string[];
  /** The end play of a cell in another unit, bare. */
  foreign: (cell: string) => string;
  /** The same with the unit's name behind it. */
  own: (cell: string) => string;
};

/** How one owner's system writes its exports. */
export type ExportFormat = {
  encoding: "utf8" | "latin1";
  byteOrderMark: boolean;
  delimiter: string;
  newline: string;
  /** One row per card and slot in place of one row a card. */
  long: boolean;
  /** Years in one file of cards; 0: all in one. */
  yearsAFile: number;
  /** The owner's way of writing a card's number. */
  cardNumber: (number: number) => string;
  cards: (slots: string[]) => Column<CardRow>[];
  cardFile: (firstYear: number, lastYear: number) => string;
  reissuedFile: string;
  /** What stands under the last row of a file of cards. */
  closing: ((rows: number) => string[]) | null;
  units: Table<UnitRecord> | null;
  readings: Table<ReadingRecord> | null;
  retirements: Table<RetirementRecord> | null;
  slips: Slips;
};

/** A cell of something that may be missing. */
export function cell<T>(value: T | null, text: (value: T) => string): string {
  return value === null ? "" : text(value);
}

/** An owner's word for one of ours. */
export function word(words: Record<string, string>, ours: string | null): string {
  if (ours === null) return "";
  const theirs = words[ours];
  if (theirs === undefined) throw new RangeError(`Cannot write "${ours}" in this export: its owner has no word for it`);
  return theirs;
}
