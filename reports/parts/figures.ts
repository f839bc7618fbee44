import { createContext } from "preact";
import type { TopLevelSpec } from "vega-lite";

/** Widths at which the drawn charts are made: half a page and a whole one, of A4. */
const WIDTHS = { half: 370, wide: 760 } as const;
/** Width of one of several small charts side by side. */
const PANEL_WIDTH = 240;

export type FigureSize = keyof typeof WIDTHS;

export type WantedFigure = { id: string; spec: TopLevelSpec; width: number; label: string };

/**
 * The figures of one page, numbered in their order. Drawing takes a promise, for which components can't wait: a page has a mark where each
 * drawing will stand, and `withDrawings` puts them there.
 */
export class Figures {
  readonly wanted: WantedFigure[] = [];
  #figures = 0;

  add(spec: TopLevelSpec, size: FigureSize): { id: string; number: number; svg: string } {
    this.#figures++;
    const id = `figure-${this.#figures}`;
    return { id, number: this.#figures, svg: this.#want(id, spec, WIDTHS[size]) };
  }

  /** Several small charts that are one figure. */
  addPanels(specs: TopLevelSpec[]): { id: string; number: number; svgs: string[] } {
    this.#figures++;
    const id = `figure-${this.#figures}`;
    const svgs = specs.map((spec, at) => this.#want(`${id}-${at + 1}`, spec, PANEL_WIDTH));
    return { id, number: this.#figures, svgs };
  }

  #want(id: string, spec: TopLevelSpec, width: number): string {
    this.wanted.push({ id, spec, width, label: String(spec.description ?? "") });
    return `<!--drawing ${id}-->`;
  }
}

/** A page's text with its drawings, by the ids of what was wanted. No text of an export makes a mark: in these "<" is escaped. */
export function withDrawings(page: string, drawings: ReadonlyMap<string, string>): string {
  return page.replaceAll(/<!--drawing ([\w-]+)-->/g, (_, id: string) => drawings.get(id) ?? "");
}

export const FiguresOfPage = createContext(new Figures());
