import type { EndPlay } from "../../src/questions/overview-types.ts";
import type { RegisteredBuild } from "../../src/questions/register-types.ts";
import type { EntryKind } from "../../src/report/entry-names.ts";
import { endWords, outOn } from "../text/build-words.ts";
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

/** The builds of one frame, a line each, with the rows of the exports that say so; or which frames stood at one position when. */
export function EntryBuilds(props: EntryBuildsProps) {
  const { kind, id, builds, endPlay } = props;
  const whole = kind === "unit";
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reachable by keyboard */}
      <section class="scroll" aria-label={whole ? `Builds of frame ${id}` : `Builds at position ${id}`} tabIndex={0}>
        <table class={whole ? "many" : undefined}>
          <thead>
            <tr>
              <th scope="col">{whole ? "Build" : "Frame"}</th>
              <th scope="col">{whole ? "Position" : "Build"}</th>
              <th scope="col">In service</th>
              <th scope="col">Taken out</th>
              <th scope="col">Taken out for</th>
              {whole && (
                <>
                  <th scope="col">Found</th>
                  <th scope="col" class="figures">
                    End play ({endPlay.unit})
                  </th>
                  <th scope="col">Lube</th>
                  <th scope="col">Rows of the exports</th>
                </>
              )}
            </tr>
          </thead>
          <tbody>
            {builds.map((build) => (
              <Row key={build.id} build={build} {...props} />
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}

function Row({ build, kind, slots, endPlay, pageOf }: EntryBuildsProps & { build: RegisteredBuild }) {
  const number = build.number === 0 ? "Before the first card" : build.number;
  const told = { ...build, failedSlot: build.failedSlot === "" ? null : build.failedSlot };
  return (
    <tr>
      <th scope="row">{kind === "unit" ? number : <Name id={build.unit} pageOf={pageOf} />}</th>
      <td>{kind === "unit" ? <Name id={build.position} pageOf={pageOf} /> : number}</td>
      <td class="whole">{build.start || "not known"}</td>
      <td class="whole">{outOn({ ...build, stop: build.stop || "not known" }) ?? "–"}</td>
      <td>{capitalised(endWords(told, slots))}</td>
      {kind === "unit" && (
        <>
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
        </>
      )}
    </tr>
  );
}

function Name({ id, pageOf }: Pick<EntryBuildsProps, "id" | "pageOf">) {
  const page = pageOf(id);
  if (page !== null) return <a href={page}>{id}</a>;
  return id || "–";
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
