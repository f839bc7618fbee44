import type { OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import type { Cell } from "./data-table.tsx";

/** What the parts of an offenders page are given. */
export type OffendersProps = {
  answer: OffendersAnswer;
  title: string;
  /** Where more is said of one: its own page, or its place among all. */
  pageOf: (id: string) => string | null;
};

/** The name in a table, leading to where more is said of it; null where the record has none. */
export function nameCell(id: string | null, pageOf: OffendersProps["pageOf"]): Cell {
  const page = id === null ? null : pageOf(id);
  return id === null || page === null ? id : { text: id, page };
}
