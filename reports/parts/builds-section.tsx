import type { Clock } from "../../src/questions/answer.ts";
import type { Dossier, DossierBuild } from "../../src/questions/dossier-types.ts";
import type { EndPlay, FleetOverview } from "../../src/questions/overview-types.ts";
import { allOf, inWords, unitOf } from "../../src/questions/wording.ts";
import { endWords, fittedLines, foundLines, outOn } from "../text/build-words.ts";
import { capitalised } from "../text/capitalised.ts";
import { endPlayCell } from "../text/end-play-cell.ts";
import { type Cell, type Column, DataTable } from "./data-table.tsx";
import { nameCell } from "./name-cell.ts";
import { usePageOf } from "./places.ts";

type BuildsProps = { dossier: Dossier; fleet: FleetOverview; clock: Clock | null };

/** One column of the table of builds. */
type BuildColumn = Column & { cell: (build: DossierBuild) => Cell };

/** Every build: what went in, how long it ran, what was found, and the records that say so. */
export function BuildsSection({ dossier: { kind, builds, buildsInAll }, fleet, clock }: BuildsProps) {
  const otherPage = usePageOf(kind === "unit" ? "position" : "unit");
  if (builds.length === 0) return <p>No build is on record.</p>;
  const { slots, endPlay } = fleet;
  const name: BuildColumn = {
    title: kind === "unit" ? "Build" : "Frame and build",
    cell: (build) => {
      const page = kind === "unit" ? null : otherPage(build.unit);
      return page === null ? nameOf(build, kind) : { text: nameOf(build, kind), page };
    },
  };
  const position: BuildColumn = { title: "Position", cell: (build) => nameCell(build.position, otherPage) };
  const asBuilt = asBuiltColumns(endPlay);
  const told = asBuilt.filter(({ cell }) => builds.some((build) => cell(build) !== null));
  const missing = asBuilt.filter((column) => !told.includes(column)).map(({ what }) => what);
  const columns: BuildColumn[] = [
    name,
    ...(kind === "unit" ? [position] : []),
    ...ranColumns(slots, unitOf(clock).trim()),
    ...told,
    ...slotColumns(slots),
  ];
  const latest =
    builds.length < buildsInAll ? `; the latest ${builds.length} of ${buildsInAll.toLocaleString("en-US")}` : "";
  return (
    <>
      <DataTable
        caption={`Builds, from going into service to the next rebuild${latest}`}
        columns={columns}
        rows={builds.map((build) => columns.map(({ cell }) => cell(build)))}
      />
      <NotKnown builds={builds} nameOf={(build) => nameOf(build, kind)} />
      <Marked builds={builds} nameOf={(build) => nameOf(build, kind)} />
      {missing.length > 0 && <p class="note">On none of their cards: {allOf(missing)}.</p>}
      <Window endPlay={endPlay} builds={builds} />
      <h3>How to trace each row</h3>
      <DataTable
        caption="Cards, source rows, and the command that tells where each figure comes from"
        columns={[name.title, "Built by card", "Ended by card", "Rows of the exports", "Command"].map((title) => ({
          title,
        }))}
        rows={builds.map((build): Cell[] => [
          name.cell(build),
          build.card,
          build.endCard,
          { lines: build.sources },
          { code: build.trace },
        ])}
      />
    </>
  );
}

function ranColumns(slots: Record<string, string>, unit: string): BuildColumn[] {
  return [
    { title: "In service", cell: ({ start }) => start ?? "not known" },
    { title: "Taken out", cell: (build) => outOn({ ...build, stop: build.stop ?? "not known" }) },
    {
      title: unit === "" ? "Ran" : `Ran (${unit})`,
      figures: true,
      cell: ({ ran }) => (ran === null ? "not known" : inWords(ran)),
    },
    { title: "Taken out for", cell: (build) => capitalised(endWords(build, slots)) },
  ];
}

function asBuiltColumns(endPlay: EndPlay): (BuildColumn & { what: string })[] {
  return [
    {
      title: `End play as built (${endPlay.unit})`,
      what: "end play as built",
      figures: true,
      cell: ({ endPlay: value }) => endPlayCell(value, endPlay),
    },
    { title: "Lube", what: "lube", cell: ({ lube }) => wordsOf(lube) },
    { title: "Seal arrangement", what: "seal arrangement", cell: ({ sealArrangement }) => wordsOf(sealArrangement) },
  ];
}

function slotColumns(slots: Record<string, string>): BuildColumn[] {
  return [
    { title: "Fitted", cell: (build) => ({ lines: fittedLines(build, slots) }) },
    { title: "Found when taken out", cell: (build) => ({ lines: foundLines(build, slots) }) },
  ];
}

const MARKS = {
  built: "the day it was built stands for it, for the card has no day of return",
  removed: "the day it was taken out before stands for it, for the card has no later day",
  last_rebuilt: "the day of the last rebuild in the list of units stands for it",
};

/** Of which builds the day in service is another day, and which. */
function Marked({ builds, nameOf }: NamedBuilds) {
  const marks = (["built", "removed", "last_rebuilt"] as const)
    .map((mark) => ({ mark, named: builds.filter((build) => build.startMarked === mark).map(nameOf) }))
    .filter(({ named }) => named.length > 0);
  if (marks.length === 0) return null;
  return (
    <p class="note">
      The day in service is not on record:{" "}
      {marks.map(({ mark, named }) => `${named.join("; ")}: ${MARKS[mark]}`).join(". ")}.
    </p>
  );
}

type NamedBuilds = { builds: DossierBuild[]; nameOf: (build: DossierBuild) => string };

/** Why it is not known of some how long they ran: each reason once, with its builds. */
function NotKnown({ builds, nameOf }: NamedBuilds) {
  const reasons = new Map<string, string[]>();
  for (const build of builds) {
    if (build.ran !== null) continue;
    const reason = build.noRun ?? "no reading";
    reasons.set(reason, [...(reasons.get(reason) ?? []), nameOf(build)]);
  }
  if (reasons.size === 0) return null;
  return (
    <p class="note">
      How long it ran is not known: {[...reasons].map(([reason, names]) => `${names.join("; ")}: ${reason}`).join(". ")}
      .
    </p>
  );
}

function Window({ endPlay: { window }, builds }: { endPlay: EndPlay; builds: DossierBuild[] }) {
  if (window === null || builds.every(({ endPlay }) => endPlay === null)) return null;
  return (
    <p class="note">
      {`End play is marked where it lies outside the window of ${window.low} to ${window.high} ${window.unit}, which the workspace takes from: ${window.source}.`}
    </p>
  );
}

function nameOf({ unit, number }: DossierBuild, kind: Dossier["kind"]): string {
  const build = number === 0 ? "before the first card" : `build ${number}`;
  return kind === "unit" ? capitalised(build) : `${unit}, ${build}`;
}

function wordsOf(name: string | null): string | null {
  return name === null ? null : name.replaceAll("_", " ");
}
