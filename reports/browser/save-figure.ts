import { csvTable } from "../../src/report/csv-table.ts";
import { figureFile, saveFile } from "./figure-file.ts";
import { figurePng } from "./figure-png.ts";
import { figureSvg } from "./figure-svg.ts";
import { figureTable } from "./figure-table.ts";
import { made } from "./made.ts";

/** Tells spreadsheets that what follows is UTF-8. */
const UTF8 = "\ufeff";

const WAYS: { name: string; file: (figure: Element) => Promise<Blob> | Blob | null }[] = [
  {
    name: "PNG",
    file: (figure) => {
      const drawing = figureSvg(figure);
      return drawing === null ? null : figurePng(drawing);
    },
  },
  {
    name: "SVG",
    file: (figure) => {
      const drawing = figureSvg(figure);
      return drawing === null ? null : new Blob([drawing.text], { type: "image/svg+xml" });
    },
  },
  {
    name: "CSV",
    file: (figure) => new Blob([UTF8, csvTable(figureTable(figure))], { type: "text/csv;charset=utf-8" }),
  },
];

/** Puts under the picture of each figure what it can be saved as. */
export function makeSaving(): void {
  for (const figure of document.querySelectorAll("figure[id]")) {
    const line = made("p", { class: "save" }, "Save this figure as ", ...WAYS.map((way) => buttonOf(figure, way)));
    const charts = figure.querySelector(".panels");
    if (charts === null) figure.querySelector(".chart")?.append(line);
    else charts.after(line);
  }
}

function buttonOf(figure: Element, { name, file }: (typeof WAYS)[number]): HTMLElement {
  const number = /figure-(\d+)$/.exec(figure.id)?.[1] ?? "";
  const button = made("button", { text: name, label: `Save figure ${number} as ${name}` });
  button.type = "button";
  button.addEventListener("click", async () => {
    const content = await file(figure);
    if (content !== null) saveFile(content, figureFile(figure, name.toLowerCase()));
  });
  return button;
}
