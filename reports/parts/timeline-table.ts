import type { TimelineRow } from "../../src/questions/overview-types.ts";
import type { TimelineOf } from "../charts/unit-timeline.ts";
import type { Cell, Column } from "./data-table.tsx";
import { nameCell } from "./name-cell.ts";

/** The table of a timeline: a row for each unit, or position, whose builds are given together in the order of time. */
export function timelineTable(
  shown: TimelineRow[][],
  of: TimelineOf,
  pageOf: (id: string) => string | null,
): { columns: Column[]; rows: Cell[][] } {
  const titles = of === "unit" ? ["Unit", "Positions"] : ["Position", "Frames"];
  return {
    columns: [titles[0]!, "First on record", "Followed to", titles[1]!, "Failure", "Planned", "Reason unknown"].map(
      (title, column) => ({ title, figures: column > 3 }),
    ),
    rows: shown.map((own) => rowOf(own, of, pageOf)),
  };
}

function rowOf(own: TimelineRow[], of: TimelineOf, pageOf: (id: string) => string | null): Cell[] {
  const ended = (how: TimelineRow["ends"]) => own.filter(({ ends }) => ends === how).length;
  const others = [...new Set(own.map((row) => (of === "unit" ? row.position : row.unit) ?? "not recorded"))];
  const last =
    own
      .map(({ stop }) => stop)
      .toSorted()
      .at(-1) ?? "";
  return [
    nameCell(own[0]?.[of] ?? null, pageOf),
    own[0]?.start ?? "",
    last,
    others.join(", "),
    ended("failure"),
    ended("planned"),
    ended("unknown"),
  ];
}
