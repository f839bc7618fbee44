import type { EndPlay } from "../../src/questions/overview-types.ts";
import type { RegisteredBuild } from "../../src/questions/register-types.ts";
import type { EntryKind } from "../../src/report/entry-names.ts";
import { endWords } from "../text/build-words.ts";
import { capitalised } from "../text/capitalised.ts";
import { endPlayCell } from "../text/end-play-cell.ts";
import { badLines, sourceLines } from "../text/entry-words.ts";

export type EntryBuildsProps = {
  kind: EntryKind;
  id: string;
  builds: RegisteredBuild[];
  slots: Record<string, string>;
  endPlay: EndPlay;
  pageOf: (id: string) => string | null;
};

/** The builds of one frame, or at one position: a line each, with the rows of the exports that say so. */
export function EntryBuilds({ kind, id, builds, slots, endPlay, pageOf }: EntryBuildsProps) {
  const caption = kind === "unit" ? `Builds of frame ${id}` : `Builds at position ${id}`;
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll" aria-label={caption} tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">Build</th>
              <th scope="col">{kind === "unit" ? "Position" : "Frame"}</th>
              <th scope="col">In service</th>
              <th scope="col">Taken out</th>
              <th scope="col">Taken out for</th>
              <th scope="col">Found</th>
              <th scope="col" class="figures">
                End play ({endPlay.unit})
              </th>
              <th scope="col">Lube</th>
              <th scope="col">Rows of the exports</th>
            </tr>
          </thead>
          <tbody>
            {builds.map((build) => (
              <Row key={build.id} build={build} kind={kind} slots={slots} endPlay={endPlay} pageOf={pageOf} />
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}

type RowProps = Omit<EntryBuildsProps, "id" | "builds"> & { build: RegisteredBuild };

function Row({ build, kind, slots, endPlay, pageOf }: RowProps) {
  const other = kind === "unit" ? build.position : build.unit;
  const page = pageOf(other);
  const told = { ...build, failedSlot: build.failedSlot === "" ? null : build.failedSlot };
  return (
    <tr>
      <th scope="row">{build.number === 0 ? "Before the first card" : build.number}</th>
      <td>{page === null ? other || "–" : <a href={page}>{other}</a>}</td>
      <td class="whole">{build.start || "not known"}</td>
      <td class="whole">{build.ends === "end" ? "–" : build.stop || "not known"}</td>
      <td>{capitalised(endWords(told, slots))}</td>
      <td>
        <Lines lines={badLines(build, slots)} />
      </td>
      <td class="figures">{endPlayCell(build.endPlay, endPlay) ?? "–"}</td>
      <td>{build.lube.replaceAll("_", " ") || "–"}</td>
      <td>
        {sourceLines(build).map((source) => (
          <code key={source} class="line">
            {source}
          </code>
        ))}
      </td>
    </tr>
  );
}

function Lines({ lines }: { lines: string[] }) {
  if (lines.length === 0) return <>–</>;
  return (
    <>
      {lines.map((line) => (
        <span key={line} class="line">
          {line}
        </span>
      ))}
    </>
  );
}
