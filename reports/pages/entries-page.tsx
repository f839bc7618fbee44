import type { ComponentChildren } from "preact";
import { entityWord } from "../../src/questions/entity-words.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import type { BuildsOfFleet, FleetRegister } from "../../src/questions/register-types.ts";
import { framelife } from "../../src/questions/rows-command.ts";
import { count } from "../../src/questions/wording.ts";
import { type EntryKind, entriesPage, entryAnchor } from "../../src/report/entry-names.ts";
import { dossierPage } from "../../src/report/page-names.ts";
import { Cautions } from "../parts/cautions.tsx";
import { EntryBuilds } from "../parts/entry-builds.tsx";
import { PageFrame } from "../parts/page-frame.tsx";
import { usePageOf } from "../parts/places.ts";
import { Section } from "../parts/section.tsx";
import type { PageInput } from "../report-input.ts";
import { capitalised } from "../text/capitalised.ts";
import { entitiesWord } from "../text/entities-word.ts";
import type { Entry, EntryList } from "../text/entry-list.ts";
import { countedWords, type EntryWords, outWords } from "../text/entry-words.ts";
import { nearParts } from "../text/near-parts.ts";

const TRACE = { id: "trace", title: "From a build to its rows" };
const CAUTIONS = { id: "cautions", title: "Cautions" };

type EntriesProps = {
  input: PageInput;
  fleet: FleetOverview;
  register: FleetRegister;
  list: EntryList;
  /** Which of the pages over which the list is laid, from 0. */
  part: number;
};

/** Every frame, or every position, of a fleet: how it stands, its builds, and the rows of the exports that say so. */
export function EntriesPage({ input, fleet, register, list, part }: EntriesProps) {
  const { kind, parts, size, out } = list;
  const { first, last } = parts[part]!;
  const section = { id: "list", title: capitalised(entitiesWord(kind)) };
  const span = parts.length === 1 ? "" : `, ${first} to ${last}`;
  // Null where they are more than pages have room for.
  const builds = register.history;
  return (
    <PageFrame
      input={input}
      title={`${capitalised(entitiesWord(kind))} on record: ${fleet.title}${span}`}
      at={{ of: "fleet", fleet, kind: kind === "unit" ? "frames" : "positions", ...(part > 0 && { below: true }) }}
      cells={[
        [capitalised(entitiesWord(kind)), size.toLocaleString("en-US")],
        ["Builds", register.builds.toLocaleString("en-US")],
        ["Standing out", out.toLocaleString("en-US")],
      ]}
      sections={[section, TRACE, CAUTIONS]}
    >
      <Section {...section}>
        <p>{list.said}</p>
        <p class="note">
          A failure can be judged where the age of the build is known and others reached it too: where fewer can than
          are on record, both counts are given.
        </p>
        {builds !== null && (
          <p class="on-paper">
            {`On paper each ${entityWord(kind)} has its line alone; its builds, and the rows of the exports that say so, are on the page itself.`}
          </p>
        )}
        <Parts fleet={fleet} list={list} part={part} />
        <ul class="entries">
          {list.entriesOf(parts[part]!).map((entry) => (
            <OneEntry key={entry.id} entry={entry} kind={kind} fleet={fleet} builds={builds} />
          ))}
        </ul>
        <Parts fleet={fleet} list={list} part={part} />
      </Section>
      <Section {...TRACE}>
        <Tracing fleet={fleet} register={register} listed={builds !== null} />
      </Section>
      <Section {...CAUTIONS}>
        <Cautions own={input.cautions} />
      </Section>
    </PageFrame>
  );
}

/** The pages over which a long list is laid. */
function Parts({ fleet, list: { kind, parts }, part }: Pick<EntriesProps, "fleet" | "list" | "part">) {
  if (parts.length === 1) return null;
  const near = nearParts(parts.length, part);
  return (
    <p class="parts">
      {capitalised(entitiesWord(kind))}:{" "}
      {near.map((place, index) => {
        const words = `${parts[place]!.first} to ${parts[place]!.last}`;
        return (
          <>
            {index > 0 && "; "}
            {place === part ? <strong>{words}</strong> : <a href={entriesPage(fleet.name, kind, place + 1)}>{words}</a>}
          </>
        );
      })}
      {near.length < parts.length &&
        `. Those between are reached from these, or by the name of a ${entityWord(kind)} in the box above.`}
    </p>
  );
}

type OneEntryProps = { entry: Entry; kind: EntryKind; fleet: FleetOverview; builds: BuildsOfFleet | null };

function OneEntry({ entry, kind, fleet, builds }: OneEntryProps) {
  const { id, models, stands, entity, alone } = entry;
  const verdict = outWords(entity);
  const own = builds === null ? [] : kind === "unit" ? builds.ofFrame(id) : builds.ofPosition(id);
  const other = usePageOf(kind === "unit" ? "position" : "unit");
  return (
    <li id={entryAnchor(kind, id)} class="entry">
      <h3>{alone ? <a href={dossierPage(fleet.name, kind, id)}>{id}</a> : id}</h3>
      <p>
        {verdict !== null && <strong>{capitalised(verdict)}. </strong>}
        {stands.map((words) => shownWords(words, other))}.
      </p>
      <p class="soft">{[models, countedWords(entry, entity)].filter((words) => words !== "").join("; ")}.</p>
      {own.length > 0 && (
        <details>
          <summary>
            {count(own.length, "build")} {kind === "unit" ? "of" : "at"} {id}
          </summary>
          <EntryBuilds kind={kind} id={id} builds={own} slots={fleet.slots} endPlay={fleet.endPlay} pageOf={other} />
        </details>
      )}
    </li>
  );
}

function shownWords(words: EntryWords[number], pageOf: (id: string) => string | null): ComponentChildren {
  if (typeof words === "string") return words;
  const id = "position" in words ? words.position : words.unit;
  const page = pageOf(id);
  return page === null ? id : <a href={page}>{id}</a>;
}

function Tracing({ fleet, register, listed }: { fleet: FleetOverview; register: FleetRegister; listed: boolean }) {
  const trace = framelife("trace", undefined);
  const example = register.frames[0]?.id ?? "FRAME";
  return (
    <>
      {!listed && (
        <p>
          This fleet has {count(register.builds, "build")}, more than pages have room for. Those of a frame, with the
          rows behind each: <code>{`${trace} ${fleet.name}/FRAME`}</code>; all of them:{" "}
          <code>{`framelife query "select * from installation where fleet = '${fleet.name}'"`}</code>.
        </p>
      )}
      <p>
        The way ends at a row of an export: its file, its sheet where it has one, and the number of the row, as it
        stands in the table of each frame's builds. These commands say what stands in it, what was changed or refused,
        and what was made of it:
      </p>
      <ul class="commands">
        <li>
          <code>{`${trace} FILE:ROW`}</code>, the row as it is in the file, cell by cell; where two numbers follow a
          file, they are the rows of the build's start and of its end;
        </li>
        <li>
          <code>{`${trace} ${fleet.name}/FRAME/BUILD`}</code>, a build: where its days and hours come from;
        </li>
        <li>
          <code>{`${trace} ${fleet.name}/${example}`}</code>, a frame: its cards, readings, lists, and builds.
        </li>
      </ul>
      <p class="note">
        The rows themselves are not on these pages: a card can hold what was not written to be passed on. Build 0 is the
        time before a frame's first card.
      </p>
    </>
  );
}
