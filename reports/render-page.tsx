import type { ComponentChild } from "preact";
import { renderToString } from "preact-render-to-string";
import { renderSvg } from "../src/report/render-svg.ts";
import { Figures, FiguresOfPage, withDrawings } from "./parts/figures.ts";

/** A page as the text of an HTML file, its charts drawn. */
export async function renderPage(page: ComponentChild): Promise<string> {
  const figures = new Figures();
  const body = renderToString(<FiguresOfPage.Provider value={figures}>{page}</FiguresOfPage.Provider>);
  const drawings = new Map<string, string>();
  for (const { id, spec, width, label } of figures.wanted)
    drawings.set(id, await renderSvg(spec, { id, width, label }));
  return `<!doctype html>\n${withDrawings(body, drawings)}\n`;
}
