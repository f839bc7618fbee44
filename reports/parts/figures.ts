import { createContext } from "preact";
import type { TopLevelSpec } from "vega-lite";

/** Widths at which the drawn charts are made: half a page and a whole one, of A4. */
const WIDTHS = { half: 370, wide: 760 } as const;

export type FigureSize = keyof typeof WIDTHS;

export type WantedFigure = { id: string; spec: TopLevelSpec; width: number; label: string };

/**
 * The figures of one page, numbered in their order. A page is rendered twice: first to learn which figures it wants,
 * then, when these are drawn (which takes a promise, and components can't wait), with the drawings in place.
 */
export class Figures {
  readonly wanted: WantedFigure[] = [];
  readonly drawings: ReadonlyMap<string, string>;

  constructor(drawings: ReadonlyMap<string, string> = new Map()) {
    this.drawings = drawings;
  }

  add(spec: TopLevelSpec, size: FigureSize): { id: string; number: number; svg: string } {
    const number = this.wanted.length + 1;
    const id = `figure-${number}`;
    this.wanted.push({ id, spec, width: WIDTHS[size], label: String(spec.description ?? "") });
    return { id, number, svg: this.drawings.get(id) ?? "" };
  }
}

export const FiguresOfPage = createContext(new Figures());
