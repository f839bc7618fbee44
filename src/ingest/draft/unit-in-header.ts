import { spellingsOf, type Unit } from "../mapping/units.ts";

const UNITS: Unit[] = ["mm", "0.01mm", "in", "thou", "um", "C", "F", "h", "rpm", "kN", "N", "lbf", "deg", "day", "wk"];

/** More ways in which headers write a unit than cells do. */
const IN_HEADERS: [string, Unit][] = [
  ["0.001 in", "thou"],
  ["0.001in", "thou"],
  [".001 in", "thou"],
  ["1/1000 in", "thou"],
  ['0.001"', "thou"],
  ['.001"', "thou"],
  ['1/1000"', "thou"],
  ["1/1000 mm", "um"],
  ["1/1000mm", "um"],
  ["0.001 mm", "um"],
  ["0,001 mm", "um"],
  ["1/100", "0.01mm"],
  ["1/100 mm", "0.01mm"],
  ["1/100mm", "0.01mm"],
  ["0.01 mm", "0.01mm"],
  ["0,01 mm", "0.01mm"],
  ["0,01mm", "0.01mm"],
  ["hundertstel mm", "0.01mm"],
  ["hundredths mm", "0.01mm"],
  ["hundredths of a mm", "0.01mm"],
  ["inches", "in"],
  ["grad c", "C"],
  ["celsius", "C"],
  ["fahrenheit", "F"],
  ["1/min", "rpm"],
  ["u/min", "rpm"],
  ["tr/min", "rpm"],
  ["tage", "day"],
  ["wochen", "wk"],
  ["std", "h"],
];

const BY_SPELLING = new Map<string, Unit>([
  ...UNITS.flatMap((unit) => spellingsOf(unit).map((spelling): [string, Unit] => [spelling, unit])).reverse(),
  ...IN_HEADERS,
]);

/** A unit that a header names, and the header without it. */
export type HeaderUnit = { unit: Unit; written: string; rest: string };

/** The unit in a header: in brackets, behind a comma, or as its last word ("End play (thou)", "Shaft float, in", "ep_mm"). */
export function unitInHeader(header: string): HeaderUnit | undefined {
  const places = [
    /[([{]\s*([^()[\]{}]+?)\s*[)\]}]/u,
    /[,;:]\s*([^,;:]+?)\s*$/u,
    /[\s_/.-]((?:0?[.,]0{1,2}1|1\/10{2,3})\s*(?:in|mm|"))\s*$/iu,
    /[\s_/.-]([^\s_/.-]+)\s*$/u,
  ];
  for (const place of places) {
    const found = place.exec(header);
    const written = found?.[1] ?? "";
    const unit = BY_SPELLING.get(
      written
        .toLowerCase()
        .replace(/^in\s+(?=\S)/, "")
        .trim(),
    );
    if (found !== null && unit !== undefined)
      return { unit, written, rest: header.slice(0, found.index) + header.slice(found.index + found[0].length) };
  }
  return undefined;
}

/** Whether a cell is the name of a unit. */
export function isUnit(text: string): boolean {
  return BY_SPELLING.has(text.trim().toLowerCase());
}
