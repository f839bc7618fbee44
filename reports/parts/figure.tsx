import { type ComponentChildren, isValidElement } from "preact";
import { useContext } from "preact/hooks";
import type { TopLevelSpec } from "vega-lite";
import { jsonIsland } from "../../src/report/json-island.ts";
import { unbroken } from "../text/unbroken.ts";
import { type Cell, type Column, DataTable, FoldedTable, type TableData } from "./data-table.tsx";
import { type FigureSize, FiguresOfPage } from "./figures.ts";

/** Words on how to read a picture that are longer fold away where the screen is narrow. */
const LONG = 140;
/** Tables of at most so many rows stand open. */
const SHORT = 6;

export type FigureTable = {
  columns: Column[];
  rows: Cell[][];
  trace?: ComponentChildren;
  /** What the table has where it has not all that is drawn: "19 of 104 steps". */
  part?: string | undefined;
};

type FigureProps = {
  /** What the picture shows. */
  title: string;
  /** What it says, in a clause with its figures; stands first. Not given where nothing can be said. */
  finding?: string | undefined;
  spec: TopLevelSpec;
  size: FigureSize;
  table: FigureTable;
  /** The table stands open whatever its length. */
  open?: boolean;
  /** How to read the picture. */
  children: ComponentChildren;
};

/** A chart with its caption above and its table below. */
export function Figure({ title, finding, spec, size, table, open, children }: FigureProps) {
  const { id, number, svg } = useContext(FiguresOfPage).add(spec, size);
  const data = tableOf(table, number, title);
  return (
    <figure id={id} class={size}>
      <Caption number={number} title={title} finding={finding}>
        {children}
      </Caption>
      <Chart spec={spec} svg={svg} />
      {open || table.rows.length <= SHORT ? <DataTable {...data} /> : <FoldedTable table={data} />}
    </figure>
  );
}

type PanelsProps = Omit<FigureProps, "spec" | "size" | "open"> & {
  panels: { title: string; words: string; spec: TopLevelSpec }[];
};

/** Small charts of one kind side by side, each under its own title, with one caption and one table. */
export function PanelsFigure({ title, finding, panels, table, children }: PanelsProps) {
  const { id, number, svgs } = useContext(FiguresOfPage).addPanels(panels.map(({ spec }) => spec));
  return (
    <figure id={id} class="wide">
      <Caption number={number} title={title} finding={finding}>
        {children}
      </Caption>
      <div class="panels">
        {panels.map((panel, at) => (
          <div key={panel.title} class="panel">
            <p class="panel-title">
              <strong>{panel.title}</strong> {panel.words}
            </p>
            <Chart spec={panel.spec} svg={svgs[at] ?? ""} />
          </div>
        ))}
      </div>
      <FoldedTable table={tableOf(table, number, title)} />
    </figure>
  );
}

function tableOf({ part, ...table }: FigureTable, number: number, title: string): TableData {
  return { caption: `Figures behind figure ${number}: ${title}${part === undefined ? "" : `; ${part}`}`, ...table };
}

type CaptionProps = Pick<FigureProps, "title" | "finding" | "children"> & { number: number };

function Caption({ number, title, finding, children }: CaptionProps) {
  return (
    <figcaption>
      <strong>
        <span class="number">Figure {number}.</span> {unbroken(finding ?? title)}.
      </strong>{" "}
      {finding !== undefined && `${title}. `}
      {lengthOf(children) <= LONG ? (
        children
      ) : (
        <details class="reading">
          <summary>How to read it</summary>
          {children}
        </details>
      )}
    </figcaption>
  );
}

/** Letters of words among other things on a page; what a component will say is not known. */
function lengthOf(words: ComponentChildren): number {
  if (typeof words === "string") return words.length;
  if (Array.isArray(words)) return words.reduce((sum: number, one) => sum + lengthOf(one), 0);
  return isValidElement(words) ? lengthOf((words.props as { children?: ComponentChildren }).children) : 0;
}

function Chart({ spec, svg }: { spec: TopLevelSpec; svg: string }) {
  return (
    <div class="chart">
      <div class="chart-still" dangerouslySetInnerHTML={{ __html: svg }} />
      <div class="chart-live" role="img" aria-label={String(spec.description)} />
      <script type="application/json" dangerouslySetInnerHTML={{ __html: jsonIsland(spec) }} />
    </div>
  );
}
