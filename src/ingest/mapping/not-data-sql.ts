import { quoteText } from "../../store/quote.ts";
import { sourceColumn } from "../export/csv-source.ts";
import type { OpenExport } from "../export/open-export.ts";
import { trimmed } from "./field-sql.ts";
import { MONTH_NAME } from "./month-names.ts";
import type { Mapped, Staging } from "./staging.ts";
import { comparedWord, normalWord } from "./word-sql.ts";

// How a row of sums begins, in English and German; common practice, no source.
const TOTAL =
  "((grand|sub)[ -]?)?totals?\\b.*|sum\\b.*|summe\\b.*|(zwischen|end)summe\\b.*|gesamt\\b.*|count\\b.*|anzahl\\b.*|average\\b.*|mittelwert\\b.*";

// A stretch of time as the title of the rows below it: a month, a quarter, a week, with or without its year; common practice, no source.
const YEAR = "[ ./,-]*((19|20)\\d\\d|'?\\d\\d)?";
const HEADING = [
  `${MONTH_NAME}\\.?${YEAR}`,
  `((19|20)\\d\\d[ /-]*)?(q|quarter|quartal|trimestre) ?[1-4]${YEAR}`,
  `[1-4]\\. ?(quartal|trimestre)${YEAR}`,
  `(kw|cw|wk|week|woche|semaine)[ .]*\\d{1,2}${YEAR}`,
].join("|");

/** SQL that says why a row is no data (blank, a header again, a total, a heading, a note), NULL where it is. */
export function notDataSql(source: OpenExport, staging: Staging, mapped: Mapped[]): string {
  const totals = staging.notData.map(
    ({ cell, pattern, because }) =>
      `when regexp_full_match(coalesce(${trimmed(cell)}, ''), ${quoteText(pattern)}, 'i') then ${quoteText(because)}`,
  );
  return `case when ${blankRow(source, mapped)} then 'blank row' when ${headerAgain(source)} then 'repeated header' ${totals.join(" ")}
    ${sums(source, mapped)} ${unusedMeasures(staging, mapped)} end`;
}

/** CASE, not AND: the engine works out both sides of an AND for every row. */
function blankRow({ header }: OpenExport, mapped: Mapped[]): string {
  const texts = mapped.flatMap(({ sql }) => (sql.text === undefined ? [] : [sql.text]));
  const cells = header.map((_, index) => sourceColumn(index));
  return `case when coalesce(${["null", ...texts].join(", ")}) is null then ${trimmed(`concat_ws('', ${cells.join(", ")})`)} is null else false end`;
}

function headerAgain({ header, headerRecords }: OpenExport): string {
  if (headerRecords === 0) return "false";
  const [first = "true", ...others] = header.map(
    (name, index) => `${trimmed(sourceColumn(index))} is not distinct from ${name === "" ? "null" : quoteText(name)}`,
  );
  return `case when ${first} then ${["true", ...others].join(" and ")} else false end`;
}

/** A row of sums or a heading lacks what makes it a record, and its words, the first or all of them, say what it is. */
function sums({ header }: OpenExport, mapped: Mapped[]): string {
  const required = mapped.flatMap(({ plan, sql }) => (plan.required && sql.text !== undefined ? [sql.text] : []));
  if (required.length === 0) return "";
  const words = `trim(concat_ws(' ', ${header.map((_, index) => `nullif(trim(${sourceColumn(index)}), '')`).join(", ")}))`;
  const lacks = required.map((text) => `${text} is null`).join(" or ");
  const isLike = (pattern: string, options: string) =>
    `case when ${lacks} then regexp_full_match(${words}, ${quoteText(pattern)}, '${options}') else false end`;
  return `when ${isLike(TOTAL, "is")} then 'row of totals' when ${isLike(HEADING, "i")} then 'heading'`;
}

function unusedMeasures({ layout, measures }: Staging, mapped: Mapped[]): string {
  const text = mapped.find(({ plan }) => layout === "measured" && plan.key === "measure")?.sql.text;
  const unused = measures.filter(({ used }) => !used);
  if (text === undefined || unused.length === 0) return "";
  const words = unused.map(({ word }) => `${comparedWord(text)} = ${quoteText(normalWord(word))}`);
  return `when ${words.join(" or ")} then 'a measured value of no use here'`;
}
