import type { OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import type { Cell } from "./data-table.tsx";

/** What the parts of an offenders page are given. */
export type OffendersProps = {
  answer: OffendersAnswer;
  title: string;
  /** The page of one, where it has one. */
  pageOf: (id: string) => string | null;
};

/** The name in a table, leading to its own page where it has one. */
export function nameCell(id: string, pageOf: OffendersProps["pageOf"]): Cell {
  const page = pageOf(id);
  return page === null ? id : { text: id, page };
}
