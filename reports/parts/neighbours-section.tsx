import { useContext } from "preact/hooks";
import type { Clock } from "../../src/questions/answer.ts";
import type { Dossier, NeighbourBuild } from "../../src/questions/dossier-types.ts";
import { count, inWords, unitOf } from "../../src/questions/wording.ts";
import { endWords, outOn, ranWords } from "../text/build-words.ts";
import { capitalised } from "../text/capitalised.ts";
import type { PageOf } from "../text/entry-places.ts";
import { type Cell, DataTable, FoldedTable, type TableData } from "./data-table.tsx";
import { nameCell } from "./name-cell.ts";
import { PlacesOfPage } from "./places.ts";

/** Tables of at most so many rows stand open. */
const SHORT = 10;

/** A frame shares positions with its neighbours; a position shares frames with other positions. */
const WORDS = {
  unit: {
    shared: "position",
    none: "No other frame is on record at the positions where it ran.",
    summary: "At each position where it ran: the frame itself, and the other frames there",
    columns: ["Position", "Its failures", "Other frames", "Their failures"],
    all: "Builds of other frames at the same positions",
    names: ["Position", "Frame"],
  },
  position: {
    shared: "unit",
    none: "No frame that ran there is on record anywhere else.",
    summary: "Each frame that ran there: how it fared at this position, and elsewhere",
    columns: ["Frame", "Failures here", "Other positions", "Failures there"],
    all: "Builds of the same frames elsewhere",
    names: ["Frame", "Position"],
  },
} as const;

type NeighboursProps = { dossier: Dossier; clock: Clock | null };

/** How others fared: other frames at the positions of a frame, the frames of a position elsewhere. */
export function NeighboursSection({ dossier, clock }: NeighboursProps) {
  const pageOf = useContext(PlacesOfPage);
  const { kind, neighbours, neighboursInAll } = dossier;
  if (neighbours.length === 0) return <p>{WORDS[kind].none}</p>;
  const unit = unitOf(clock).trim();
  const table = buildsTable(dossier, unit, pageOf);
  return (
    <>
      <DataTable {...summaryTable(dossier, unit, pageOf)} />
      <p class="note">
        Builds of which the {unit === "days" ? "days" : "hours"} are not known are in no sum of service.
        {neighbours.length < neighboursInAll && " Only the latest builds of the others are in the table."} Frames differ
        in age and duty: this shows where to look, the verdict allows for it.
      </p>
      {table.rows.length > SHORT ? <FoldedTable table={table} /> : <DataTable {...table} />}
    </>
  );
}

function summaryTable({ kind, builds, neighbours }: Dossier, unit: string, pageOf: PageOf): TableData {
  const { shared, summary, columns } = WORDS[kind];
  const ran = unit === "" ? "" : ` (${unit})`;
  const [name, own, others, theirs] = columns;
  const places = [...new Set([...builds, ...neighbours].map((build) => build[shared]))].filter(
    (place) => place !== null,
  );
  return {
    caption: summary,
    columns: [
      { title: name },
      ...[own, `Service${ran}`, others, theirs, `Their service${ran}`].map((title) => ({ title, figures: true })),
    ],
    rows: places.toSorted(byName).map((place): Cell[] => {
      const here = builds.filter((build) => build[shared] === place);
      const there = neighbours.filter((build) => build[shared] === place);
      return [
        nameCell(place, (id) => pageOf(shared, id)),
        failures(here),
        serviceOf(here),
        new Set(there.map((build) => build[kind])).size,
        failures(there),
        serviceOf(there),
      ];
    }),
  };
}

function buildsTable({ kind, neighbours, neighboursInAll }: Dossier, unit: string, pageOf: PageOf): TableData {
  const { shared, all, names } = WORDS[kind];
  const latest =
    neighbours.length < neighboursInAll
      ? `; the latest ${neighbours.length} of ${neighboursInAll.toLocaleString("en-US")}`
      : "";
  return {
    caption: `${all}${latest}`,
    columns: [
      ...[...names, "In service", "Taken out"].map((title) => ({ title })),
      { title: unit === "" ? "Ran" : `Ran (${unit})`, figures: true },
      { title: "Taken out for" },
      { title: "Command" },
    ],
    rows: neighbours
      .toSorted((one, other) => byName(one[shared] ?? "", other[shared] ?? ""))
      .map((build): Cell[] => [
        nameCell(build[shared], (id) => pageOf(shared, id)),
        nameCell(build[kind], (id) => pageOf(kind, id)),
        build.start ?? "not known",
        outOn({ ...build, stop: build.stop ?? "not known" }),
        ranWords(build),
        capitalised(endWords({ ...build, failedSlot: null }, {})),
        { code: build.trace },
      ]),
  };
}

const { compare: byName } = new Intl.Collator("en", { numeric: true });

function failures(builds: NeighbourBuild[]): number {
  return builds.filter(({ ends }) => ends === "failure").length;
}

/** Service together; how many builds are not in it is said beside. */
function serviceOf(builds: NeighbourBuild[]): string {
  const unknown = builds.filter(({ ran }) => ran === null).length;
  const sum = inWords(builds.reduce((total, { ran }) => total + (ran ?? 0), 0));
  return unknown === 0 ? sum : `${sum} (${count(unknown, "build")} not known)`;
}
