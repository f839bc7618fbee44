/** Figures that a spreadsheet keeps of a number; the rest is what binary fractions add (4.0000000000000004 is 4). */
const FIGURES = 15;
/** Below it a number has more than the 100 decimals that can be written; nothing that is measured is so small. */
const SMALLEST = 1e-80;

/**
 * A number of a workbook, written in its shortest form at 15 figures; with an exponent only from 1E+15 on, where figures are lost.
 * @param raw - as it stands in the workbook, with a dot
 */
export function numberText(raw: string, mark: "." | ","): string {
  if (/^-?[1-9]\d{0,14}$/.test(raw) || raw === "0") return raw;
  const rounded = Number(Number(raw).toPrecision(FIGURES));
  if (raw.trim() === "" || !Number.isFinite(rounded)) return raw;
  const text = plain(rounded);
  return mark === "," ? text.replace(".", ",") : text;
}

function plain(value: number): string {
  const size = Math.abs(value);
  if (size >= 1e15 || (size > 0 && size < SMALLEST)) return value.toExponential().replace("e", "E");
  const text = String(value);
  if (!text.includes("e")) return text;
  const exponent = Number(text.slice(text.indexOf("e") + 1));
  return value.toFixed(FIGURES - 1 - exponent).replace(/\.?0+$/, "");
}
