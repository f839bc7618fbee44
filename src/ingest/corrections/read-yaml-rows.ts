import { readFileSync } from "node:fs";
import { isMap, isScalar, isSeq, LineCounter, parseDocument, type YAMLMap } from "yaml";
import { nulOffset } from "../../workspace/yaml-file.ts";
import { fault } from "../hand-table.ts";
import { nearest } from "../mapping/nearest.ts";
import { CORRECTION_COLUMNS, type CorrectionRow } from "./correction.ts";

/**
 * The rows of a corrections file in YAML: a list of entries, each with the keys that the CSV has as columns; keys left out are blank.
 * Values are texts as they are written: `old: 5.0` means "5.0".
 * @throws UserError with line if the YAML is broken or of another form
 */
export function readYamlRows(path: string, name: string): CorrectionRow[] {
  const lines = new LineCounter();
  const document = parseDocument(readFileSync(path, "utf8"), { lineCounter: lines, prettyErrors: false });
  const lineAt = (offset: number | undefined) => lines.linePos(offset ?? 0).line;
  const broken = document.errors[0];
  if (broken !== undefined) throw fault(name, lineAt(broken.pos[0]), `${broken.message}; mend the YAML there`);
  const nul = nulOffset(document);
  if (nul !== undefined) throw fault(name, lineAt(nul), 'a text there holds a NUL character; take "\\0" out');
  const list = document.contents;
  if (list === null) return [];
  if (!isSeq(list)) throw fault(name, lineAt(list.range?.[0]), 'it is no list; begin each correction with "- record:"');
  return list.items.map((item) => {
    if (!isMap(item)) throw fault(name, 1, `an entry has no keys; give it ${CORRECTION_COLUMNS.join(", ")}`);
    const line = lineAt(item.range?.[0]);
    return { line, cells: cellsOf(item, name, line) };
  });
}

function cellsOf(item: YAMLMap, name: string, line: number): CorrectionRow["cells"] {
  const cells = Object.fromEntries(CORRECTION_COLUMNS.map((column) => [column, ""])) as CorrectionRow["cells"];
  for (const { key, value } of item.items) {
    const said = textOf(key);
    const column = CORRECTION_COLUMNS.find((known) => known === said);
    if (column === undefined) {
      throw fault(name, line, `there is no key "${said}"; the nearest is "${nearest(said, CORRECTION_COLUMNS)}"`);
    }
    if (value !== null && !isScalar(value)) throw fault(name, line, `${column} holds more than a text; write one`);
    cells[column] = textOf(value).trim();
  }
  return cells;
}

/** What stands in the file, not what YAML makes of it. */
function textOf(node: unknown): string {
  if (!isScalar(node) || node.value === null) return "";
  return typeof node.value === "string" ? node.value : (node.source ?? String(node.value));
}
