import type { ComponentChild } from "preact";
import { renderToString } from "preact-render-to-string";
import { renderSvg } from "../src/report/render-svg.ts";
import { Figures, FiguresOfPage } from "./parts/figures.ts";

/** A page as the text of an HTML file, its charts drawn. */
export async function renderPage(page: ComponentChild): Promise<string> {
  const first = new Figures();
  const plain = renderToString(<FiguresOfPage.Provider value={first}>{page}</FiguresOfPage.Provider>);
  if (first.wanted.length === 0) return `<!doctype html>\n${plain}\n`;
  const drawings = new Map<string, string>();
  for (const { id, spec, width, label } of first.wanted) drawings.set(id, await renderSvg(spec, { id, width, label }));
  const body = renderToString(<FiguresOfPage.Provider value={new Figures(drawings)}>{page}</FiguresOfPage.Provider>);
  return `<!doctype html>\n${body}\n`;
}
