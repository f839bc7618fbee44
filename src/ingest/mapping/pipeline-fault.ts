import { readFileSync } from "node:fs";
import { isNode, LineCounter, parseDocument } from "yaml";
import { UserError } from "../../errors.ts";
import type { NamedPipeline } from "../../workspace/workspace.ts";

/** A fault of a pipeline as a UserError that names its file, the line and the place: found, then the remedy. */
export function pipelineFault(named: NamedPipeline, place: string[], found: string): UserError {
  return new UserError(
    `Cannot use pipeline "${named.name}": ${named.path}, line ${lineOf(named.path, place)} at "${place.join(".")}": ${found}`,
  );
}

/** Line of the nearest thing around `place` that the file has; 1 if the file is gone meanwhile. */
function lineOf(path: string, place: string[]): number {
  const lines = new LineCounter();
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch {
    return 1;
  }
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  for (let length = place.length; length > 0; length--) {
    const node = document.getIn(place.slice(0, length), true);
    if (isNode(node) && node.range) return lines.linePos(node.range[0]).line;
  }
  return 1;
}
