import type { ComponentChildren } from "preact";
import { useContext } from "preact/hooks";
import type { TopLevelSpec } from "vega-lite";
import { jsonIsland } from "../../src/report/json-island.ts";
import { type Cell, type Column, DataTable, FoldedTable } from "./data-table.tsx";
import { type FigureSize, FiguresOfPage } from "./figures.ts";

/** Tables of at most so many rows stand open. */
const SHORT = 6;

export type FigureTable = { columns: Column[]; rows: Cell[][]; trace?: ComponentChildren };

type FigureProps = {
  title: string;
  spec: TopLevelSpec;
  size: FigureSize;
  table: FigureTable;
  /** The table stands open whatever its length. */
  open?: boolean;
  /** How to read the picture. */
  children: ComponentChildren;
};

/** A chart with its caption above and its table below. */
export function Figure({ title, spec, size, table, open, children }: FigureProps) {
  const { id, number, svg } = useContext(FiguresOfPage).add(spec, size);
  const data = { caption: `Figures behind figure ${number}: ${title}`, ...table };
  return (
    <figure id={id} class={size}>
      <figcaption>
        <strong>
          <span class="number">Figure {number}.</span> {title}.
        </strong>{" "}
        {children}
      </figcaption>
      <div class="chart">
        <div class="chart-still" dangerouslySetInnerHTML={{ __html: svg }} />
        <div class="chart-live" role="img" aria-label={String(spec.description)} />
        <script type="application/json" dangerouslySetInnerHTML={{ __html: jsonIsland(spec) }} />
      </div>
      {open || table.rows.length <= SHORT ? <DataTable {...data} /> : <FoldedTable table={data} />}
    </figure>
  );
}
