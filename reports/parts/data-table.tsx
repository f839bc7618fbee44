import type { ComponentChildren } from "preact";

export type Column = { title: string /** Figures stand to the right. */; figures?: boolean };
/** A code is something to be typed or copied as it stands; a link leads to another page of the report; lines stand one under the other. */
export type Cell = string | number | null | { code: string } | { text: string; page: string } | { lines: string[] };

export type TableData = {
  caption: string;
  columns: Column[];
  rows: Cell[][] /** A last row that sums the others. */;
  sum?: Cell[];
  /** How its rows can be followed to the records behind them; under the table. */
  trace?: ComponentChildren;
};

/** Columns from which a table stands closer, so that it need not be pushed sideways on a desk's screen. */
const MANY = 9;

/** A table whose first cell names its row. Scrolls sideways where the screen is narrow, by keyboard as well. */
export function DataTable({ caption, columns, rows, sum, trace }: TableData) {
  const line = (cells: Cell[], key: number) => (
    <tr key={key}>
      {cells.map((cell, column) => {
        const text = cellText(cell);
        const look = cellClass(text, columns[column]?.figures ?? false);
        const shown = shownAs(cell, text);
        return column === 0 ? (
          <th scope="row" class={look}>
            {shown}
          </th>
        ) : (
          <td class={look}>{shown}</td>
        );
      })}
    </tr>
  );
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll" aria-label={caption} tabIndex={0}>
        <table class={columns.length < MANY ? undefined : "many"}>
          <caption>{caption}</caption>
          <thead>
            <tr>
              {columns.map(({ title, figures }) => (
                <th key={title} scope="col" class={headClass(title, figures ?? false)}>
                  {title}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>{rows.map(line)}</tbody>
          {sum && <tfoot>{line(sum, -1)}</tfoot>}
        </table>
      </section>
      {trace !== undefined && <p class="trace">{trace}</p>}
    </>
  );
}

function shownAs(cell: Cell, text: string): ComponentChildren {
  if (typeof cell !== "object" || cell === null) return text;
  if ("code" in cell) return <code>{text}</code>;
  if ("page" in cell) return <a href={cell.page}>{text}</a>;
  return cell.lines.map((line) => (
    <span key={line} class="line">
      {line}
    </span>
  ));
}

/** The same table behind a line that opens it; opened on paper. */
export function FoldedTable({ table, children }: { table: TableData; children?: ComponentChildren }) {
  return (
    <details>
      <summary>
        {table.caption} <span class="soft">(table)</span>
      </summary>
      <DataTable {...table} />
      {children}
    </details>
  );
}

/** A long title has room for two or three lines, not for a word a line. */
function headClass(title: string, figures: boolean): string | undefined {
  const classes = [...(figures ? ["figures"] : []), ...(title.length > 14 ? ["long"] : [])];
  return classes.length === 0 ? undefined : classes.join(" ");
}

const DAY = /^\d{4}-\d\d-\d\d$/;

/** A day and a figure with its limits stay on one line; a reason in words wraps, but not to a word a line. */
function cellClass(text: string, figures: boolean): string | undefined {
  if (DAY.test(text)) return figures ? "figures whole" : "whole";
  const words = text.length > 30;
  if (figures) return words ? "figures words" : "figures whole";
  if (words) return "words";
  return text.length > 12 ? "phrase" : undefined;
}

const grouped = new Intl.NumberFormat("en-US", { maximumFractionDigits: 4 });

function cellText(cell: Cell): string {
  if (cell === null) return "–";
  if (typeof cell === "object") {
    if ("lines" in cell) return cell.lines.join("; ");
    return "code" in cell ? cell.code : cell.text;
  }
  return typeof cell === "number" ? grouped.format(cell) : cell;
}
