import type { Clock, LifeGroup } from "../../src/questions/answer.ts";
import { count, inWords, unitOf } from "../../src/questions/wording.ts";
import { boundsWords } from "../text/bounds-words.ts";
import { percentOf } from "../text/percent-of.ts";
import { DataTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

type AssumedProps = { title: string; group: LifeGroup; level: number; clock: Clock | null; rows: string };

/** Life under shapes that are assumed, where failures are too few to fit one or where a shape was asked for. */
export function AssumedShapes({ title, group: { assumedShape, basis }, level, clock, rows }: AssumedProps) {
  if (assumedShape.length === 0) return null;
  const inUnit = clock === null ? "" : ` (${unitOf(clock).trim()})`;
  return (
    <>
      <p>
        {basis.failed < 2
          ? `With ${basis.failed === 0 ? "no failure" : "one failure"} the records alone don't give a shape. Below it is assumed, not found`
          : `Below the shape is assumed, not found from the ${count(basis.failed, "failure")}`}
        : the figures are no surer than the shape that they stand on.
        {assumedShape.length > 1 && " How far they differ from row to row shows what the assumption is worth."}
      </p>
      <DataTable
        caption={`Life by the shape assumed, ${title}; ${percentOf(level)} limits${basis.failed === 0 ? ", lower ones alone" : ""}`}
        columns={[
          { title: "Shape assumed" },
          ...[`L10${inUnit}`, `Median${inUnit}`, `Scale${inUnit}`].map((column) => ({ title: column, figures: true })),
        ]}
        rows={assumedShape.map(({ shape, l10, median, scale }) => [
          inWords(shape),
          boundsWords(l10),
          boundsWords(median),
          boundsWords(scale),
        ])}
        trace={<RowsBehind command={rows} only={`those of ${title}`} />}
      />
    </>
  );
}
