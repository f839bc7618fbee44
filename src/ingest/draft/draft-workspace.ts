import { basename, dirname, extname } from "node:path";
import { UserError } from "../../errors.ts";
import { checkConfiguration, checkDraft } from "./check-draft.ts";
import type { Draft, DraftFleet } from "./draft.ts";
import { questionsOf } from "./draft.ts";
import type { ExportFile, ExportKinds, Kind } from "./draft-exports.ts";
import { nameOf } from "./fleet-name.ts";
import { type Lack, lacksOf } from "./lacks.ts";
import type { Answers, Question } from "./opinion.ts";
import { exportWords } from "./shown.ts";
import { type Settings, settingsOf, slotsOf } from "./workspace-settings.ts";
import { writeConfiguration } from "./write-configuration.ts";
import { writeDraft } from "./write-draft.ts";

/** A pipeline of a drafted workspace. */
type DraftedPipeline = { draft: Draft; text: string };

/** A question of one pipeline, or of the configuration. */
export type PlacedQuestion = Question & {
  /** Under which its answer goes. */ kind?: string /** File in which it stands. */;
  file: string;
};

/** A workspace as drafted from exports; nothing is written yet. */
export type DraftedWorkspace = {
  configuration: string;
  settings: Settings;
  pipelines: DraftedPipeline[];
  questions: PlacedQuestion[];
  lacks: Lack[];
  /** Files and sheets that are not used, and why. */
  aside: { shownPath: string; why: string }[];
};

/** Answers by the kind of export, then by question. */
export type WorkspaceAnswers = Readonly<Record<string, Answers>>;

type Drafted = { kind: Kind; draft: Draft };

/**
 * Drafts a pipeline for each kind of export, and a configuration that fits them.
 * @param shop - name of the workspace's folder, for a fleet and a title where nothing says one
 * @throws UserError if none of the files is of a kind that is known
 */
export async function draftWorkspace(
  exports: ExportKinds,
  shop: string,
  answers: WorkspaceAnswers,
): Promise<DraftedWorkspace> {
  const aside = [...exports.aside];
  const folders = [...new Set(exports.kinds.flatMap(({ files }) => files.map(({ path }) => dirname(path))))];
  const fleetFor = (kind: Kind): DraftFleet =>
    fleetNamed(folders.length > 1 ? basename(dirname(kind.files[0]!.path)) : shop);
  const first = await draftAll(exports, answers, fleetFor, aside);
  if (first.length === 0) throw noneKnown(aside);
  const told = fleetsByColumn(first);
  const drafted =
    told.length === 0 ? first : await draftAll(exports, answers, (kind) => fleetAmong(told, fleetFor(kind)), []);
  const shared = await exports.shared();
  const asking = drafted.map(({ kind, draft }) => ({
    kind,
    draft: { ...draft, questions: [...draft.questions, ...(shared.get(kind) ?? [])] },
  }));
  return assemble(asking, shop, aside, told.length > 1);
}

function fleetNamed(text: string): DraftFleet {
  return { name: nameOf(text, "main"), title: text.trim() === "" ? "Main" : text };
}

function fleetAmong(told: DraftFleet[], own: DraftFleet): DraftFleet {
  return told.find(({ name }) => name === own.name) ?? told[0]!;
}

/** Fleets that a column names. */
function fleetsByColumn(drafted: Drafted[]): DraftFleet[] {
  const all = drafted.flatMap(({ draft }) => {
    const isColumn = draft.fields.some(({ key, column }) => key === "fleet" && column !== undefined);
    return isColumn ? draft.fleets : [];
  });
  return all.filter(({ name }, index) => all.findIndex((fleet) => fleet.name === name) === index);
}

/** Drafts each kind of export under a name of its own; what is of no known kind is put aside. */
async function draftAll(
  exports: ExportKinds,
  answers: WorkspaceAnswers,
  fleetFor: (kind: Kind) => DraftFleet,
  aside: DraftedWorkspace["aside"],
): Promise<Drafted[]> {
  const drafted: Drafted[] = [];
  for (const [index, kind] of exports.kinds.entries()) {
    try {
      const fleet = { known: [], otherwise: fleetFor(kind), isPlain: true };
      const draft = await exports.draft(kind, { name: String(index), fleet, answers: answers[String(index)] ?? {} });
      drafted.push({ kind, draft });
    } catch (error) {
      if (!(error instanceof UserError)) throw error;
      const shownPaths = kind.files.map(({ shownPath }) => shownPath);
      aside.push({ shownPath: exportWords(shownPaths, kind.sheets), why: error.message });
    }
  }
  return drafted;
}

function noneKnown(aside: DraftedWorkspace["aside"]): UserError {
  const [first] = aside;
  if (aside.length === 1 && first !== undefined) return new UserError(first.why);
  return new UserError(
    `Cannot draft a workspace: none of the exports is of a kind that is known:\n${aside.map(({ why }) => `  ${why}`).join("\n")}`,
  );
}

/** Lists of units come first, then what happened to them, then what is on the shelf. */
const ORDER = ["unit", "rebuild", "reading", "retirement", "part", "stock", "bearing"];

function assemble(
  drafted: Drafted[],
  shop: string,
  aside: DraftedWorkspace["aside"],
  isOpen: boolean,
): DraftedWorkspace {
  const sorted = drafted.toSorted((a, b) => placeOf(a.draft) - placeOf(b.draft));
  const named = withNames(sorted.map(({ draft }) => draft));
  const settings = settingsOf(named, shop);
  const slots = slotsOf(named);
  const fleets = settings.fleets.map(({ name }) => name);
  const pipelines = named.map((draft) => ({ draft, text: writeDraft(withFleetQuestion(draft, isOpen)) }));
  for (const { draft, text } of pipelines) checkDraft(text, draft.name, fleets, slots);
  const own = sorted.flatMap(({ draft }, index) => {
    return questionsOf(withFleetQuestion(named[index]!, isOpen)).map(
      (question): PlacedQuestion => ({ ...question, kind: draft.name, file: `pipelines/${named[index]!.name}.yaml` }),
    );
  });
  const configuration = writeConfiguration(
    settings,
    named.map(({ name }) => name),
  );
  checkConfiguration(configuration);
  return {
    configuration,
    settings,
    pipelines,
    questions: [...own, ...settings.questions.map((question) => ({ ...question, file: "framelife.yaml" }))],
    lacks: lacksOf(
      new Map(
        settings.fleets.map(({ name }) => [
          name,
          named.filter((draft) => draft.fleets.some((fleet) => fleet.name === name) || isShelf(draft)),
        ]),
      ),
    ),
    aside,
  };
}

/** Parts and stock are of no fleet. */
function isShelf({ record }: Draft): boolean {
  return record === "stock" || record === "part" || record === "bearing";
}

function placeOf({ record, layout }: Draft): number {
  return ORDER.indexOf(record) + (layout === "measured" ? 0.5 : 0);
}

/** Where cards name several fleets, an export that names none may be of any of them. */
function withFleetQuestion(draft: Draft, isOpen: boolean): Draft {
  if (!isOpen || draft.fields.every(({ key, column }) => key !== "fleet" || column !== undefined)) return draft;
  const fleet = draft.fleets[0]?.name ?? "";
  const text = `no column says the fleet, and other exports name several; all rows are taken to be of "${fleet}"`;
  const fields = draft.fields.map((field) =>
    field.key === "fleet"
      ? { ...field, questions: [{ id: "fleet", text, options: [], cells: draft.rows }], sure: false }
      : field,
  );
  return { ...draft, fields };
}

const NAMES: Record<Draft["record"], string> = {
  rebuild: "cards",
  unit: "units",
  reading: "readings",
  retirement: "retirements",
  stock: "stock",
  part: "parts",
  bearing: "bearings",
};

/** Names by what the records are, with the fleet's where there are several, and the file's where that does not tell them apart. */
function withNames(drafts: Draft[]): Draft[] {
  const fleets = new Set(drafts.flatMap((draft) => (isShelf(draft) ? [] : draft.fleets.map(({ name }) => name))));
  const base = drafts.map((draft) => {
    const kind = draft.layout === "measured" ? "measurements" : NAMES[draft.record];
    const [only, ...others] = draft.fleets;
    return fleets.size > 1 && only !== undefined && others.length === 0 && !isShelf(draft)
      ? `${only.name}-${kind}`
      : kind;
  });
  const taken = new Set<string>();
  return drafts.map((draft, index) => {
    const own = base[index]!;
    const isAlone = base.indexOf(own) === base.lastIndexOf(own);
    const wanted = isAlone ? own : `${own}-${nameOf(stemOf(draft), "export")}`;
    let name = wanted;
    for (let turn = 2; taken.has(name); turn++) name = `${wanted}-${turn}`;
    taken.add(name);
    const [fleet] = draft.fleets;
    const title =
      fleets.size > 1 && fleet !== undefined && draft.fleets.length === 1 && !isShelf(draft)
        ? `${draft.title} of ${fleet.title}`
        : draft.title;
    return { ...draft, name, title };
  });
}

function stemOf({ files, sheets }: Draft): string {
  const file = basename(files[0] ?? "").replace(/\.gz$/i, "");
  return sheets?.[0] ?? file.slice(0, file.length - extname(file).length);
}

/** Files by the folder that they come from: files of two owners with the same header are two kinds. */
export function byFolder(files: ExportFile[]): ExportFile[][] {
  const folders = new Map<string, ExportFile[]>();
  for (const file of files) folders.set(dirname(file.path), [...(folders.get(dirname(file.path)) ?? []), file]);
  return [...folders.values()];
}
