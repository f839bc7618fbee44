import { shortLabel } from "../charts/short-label.ts";
import { COLOURS } from "../theme/colours.ts";

const SVG = "http://www.w3.org/2000/svg";
const MARGIN = 12;
/** Between small charts side by side, and what their titles take above each. */
const GAP = 24;
const TITLE = 22;
/** Small charts in a row. */
const ACROSS = 3;
/** Signs of a title that fit over a small chart. */
const NAME = 40;

export type FigureSvg = { text: string; width: number; height: number };

/**
 * The drawing of a figure as a file of its own, on paper and in the colours of day whatever the page is shown in. What is highlighted on the page
 * is not in it; its title and caption are.
 */
export function figureSvg(figure: Element): FigureSvg | null {
  const drawings = [...figure.querySelectorAll<SVGSVGElement>(".chart-still svg")];
  if (drawings.length === 0) return null;
  const places = placesOf(drawings);
  const width = Math.max(...places.map((place) => place.x + place.width)) + MARGIN;
  const height = Math.max(...places.map((place) => place.y + place.height)) + MARGIN;
  const caption = figure.querySelector("figcaption");
  const root = shape("svg", { width, height, viewBox: `0 0 ${width} ${height}`, "font-family": fontOf(drawings[0]) });
  root.append(
    shape("title", {}, worded(caption?.querySelector("strong"))),
    shape("desc", {}, captionWords(caption)),
    shape("rect", { width, height, fill: COLOURS.paper }),
  );
  for (const { drawing, x, y } of places) {
    const name = drawing.closest(".panel")?.querySelector(".panel-title");
    if (name)
      root.append(shape("text", { x, y: y - 8, "font-size": 11.5, fill: COLOURS.ink }, shortLabel(worded(name), NAME)));
    const copy = drawing.cloneNode(true) as SVGSVGElement;
    copy.setAttribute("x", String(x));
    copy.setAttribute("y", String(y));
    root.append(copy);
  }
  return { text: serialised(root), width, height };
}

type Place = { drawing: SVGSVGElement; x: number; y: number; width: number; height: number };

/** Small charts stand in rows, each under its title; a single one stands alone. */
function placesOf(drawings: SVGSVGElement[]): Place[] {
  const places: Place[] = [];
  let top = MARGIN;
  for (let first = 0; first < drawings.length; first += ACROSS) {
    const row = drawings.slice(first, first + ACROSS);
    const head = row.some((drawing) => drawing.closest(".panel") !== null) ? TITLE : 0;
    let x = MARGIN;
    for (const drawing of row) {
      const [width, height] = ["width", "height"].map((side) => Number(drawing.getAttribute(side)) || 0) as [
        number,
        number,
      ];
      places.push({ drawing, x, y: top + head, width, height });
      x += width + GAP;
    }
    top = Math.max(...places.slice(first).map(({ y, height }) => y + height)) + GAP;
  }
  return places;
}

function fontOf(drawing: SVGSVGElement | undefined): string {
  return drawing?.querySelector("[font-family]")?.getAttribute("font-family") ?? "sans-serif";
}

function shape(name: string, attributes: Record<string, string | number>, text?: string): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  if (text !== undefined) made.textContent = text;
  return made;
}

/** Without what opens its fold. */
function captionWords(caption: Element | null): string {
  const own = caption?.cloneNode(true) as Element | undefined;
  for (const summary of own?.querySelectorAll("summary") ?? []) summary.remove();
  return worded(own);
}

function worded(element: Element | null | undefined): string {
  return (element?.textContent ?? "").replaceAll(/\s+/g, " ").trim();
}

/** Signs that a name from an export may hold and XML may not. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;

function serialised(root: SVGElement): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(root).replaceAll(FORBIDDEN, "")}\n`;
}
