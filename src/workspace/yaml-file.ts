import { readFileSync } from "node:fs";
import { type Document, isNode, LineCounter, parseDocument, visit } from "yaml";
import type * as z from "zod";
import { UserError } from "../errors.ts";

/**
 * Reads a YAML file and checks it against `schema`; a fault is named with file, line, what was found and the remedy.
 * @param what - what the file is, as a message says it
 */
export function readYamlFile<Schema extends z.ZodType>(path: string, schema: Schema, what?: string): z.output<Schema> {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    throw new UserError(
      `Cannot read ${path}: ${code === "ENOENT" ? "there is no such file" : `the system says ${code}`}`,
      1,
      {
        cause: error,
      },
    );
  }
  return parseYaml(text, path, schema, what);
}

/** The same from text; `path` names the file in messages. */
export function parseYaml<Schema extends z.ZodType>(
  text: string,
  path: string,
  schema: Schema,
  what = "the configuration",
): z.output<Schema> {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  const broken = document.errors[0];
  if (broken) {
    const line = lines.linePos(broken.pos[0]).line;
    throw new UserError(`Cannot read ${path}, line ${line}: ${broken.message}; mend the YAML there`);
  }
  const offset = nulOffset(document);
  if (offset !== undefined) {
    throw new UserError(
      `Cannot read ${path}, line ${lines.linePos(offset).line}: a text there holds a NUL character; take "\\0" out`,
    );
  }
  const checked = schema.safeParse(document.toJS() ?? {});
  if (checked.success) return checked.data;
  const faults = checked.error.issues.map((issue) => {
    const at = nearestLine(issue.path, (path) => {
      const node = document.getIn(path, true);
      return isNode(node) && node.range ? lines.linePos(node.range[0]).line : undefined;
    });
    const where = issue.path.length > 0 ? ` at "${issue.path.join(".")}"` : "";
    return `${path}, line ${at}${where}: ${issue.message}`;
  });
  throw new UserError(`Cannot use ${what}:\n  ${faults.join("\n  ")}`);
}

/** Where a text begins that holds a NUL, written as an escape: no file name, and nothing that the engine is told, can hold one. */
export function nulOffset(document: Document): number | undefined {
  let offset: number | undefined;
  visit(document, {
    Scalar: (_, { value, range }) => {
      if (typeof value !== "string" || !value.includes("\0")) return undefined;
      offset = range?.[0] ?? 0;
      return visit.BREAK;
    },
  });
  return offset;
}

/** A key that is missing has no line of its own: the line of the nearest thing around it is given. */
function nearestLine(path: PropertyKey[], lineOf: (path: PropertyKey[]) => number | undefined): number {
  for (let length = path.length; length > 0; length--) {
    const line = lineOf(path.slice(0, length));
    if (line !== undefined) return line;
  }
  return 1;
}
