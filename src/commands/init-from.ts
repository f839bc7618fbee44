import { existsSync, statSync } from "node:fs";
import { basename, relative, resolve, sep } from "node:path";
import { UserError } from "../errors.ts";
import type { ExportFile } from "../ingest/draft/draft-exports.ts";
import type { DraftedWorkspace, PlacedQuestion, WorkspaceAnswers } from "../ingest/draft/draft-workspace.ts";
import { lackSentence } from "../ingest/draft/lacks.ts";
import { columnList, counted } from "../ingest/draft/shown.ts";
import { printable } from "./printable.ts";
import type { Surroundings } from "./surroundings.ts";

/** Questions that a person is asked at most; the rest stand in the drafts. */
const MOST_ASKED = 12;

/** Drafts a workspace from exports, asks what they leave open where someone can answer, and writes it in one go. */
export async function initFrom(
  around: Surroundings,
  target: string,
  shownFolder: string,
  from: string[],
): Promise<void> {
  const files = filesOf(around, target, from);
  const shop = basename(target) || "My pump shop";
  const [{ withExports }, { byFolder, draftWorkspace }, { writeWorkspace }] = await Promise.all([
    import("../ingest/draft/map-file.ts"),
    import("../ingest/draft/draft-workspace.ts"),
    import("../workspace/write-workspace.ts"),
  ]);
  const drafted = await withExports(async (exports) => {
    for (const group of byFolder(files)) await exports.add(group);
    const first = await draftWorkspace(exports, shop, {});
    const answers = await answersTo(around, first.questions);
    return Object.keys(answers).length === 0 ? first : draftWorkspace(exports, shop, answers);
  }, around);
  const used = new Set(drafted.pipelines.flatMap(({ draft }) => draft.files));
  await writeWorkspace(target, {
    texts: new Map([
      ...drafted.pipelines.map(({ draft, text }): [string, string] => [`pipelines/${draft.name}.yaml`, text]),
      ["framelife.yaml", drafted.configuration],
    ]),
    copies: new Map(
      files
        .filter(({ name, path }) => used.has(name) && resolve(target, name) !== path)
        .map(({ name, path }) => [name, path]),
    ),
  });
  around.print(madeText(drafted, { target, shownFolder }));
}

/** Where each export goes: it stays where it is in the workspace, else into exports/, by its folder where several have its name. */
function filesOf(around: Surroundings, target: string, from: string[]): ExportFile[] {
  const paths = [...new Set(from.map((file) => resolve(around.folder, file)))];
  for (const [index, path] of paths.entries()) {
    const shownPath = from[index] ?? path;
    if (!existsSync(path)) throw new UserError(`Cannot read ${shownPath}: there is no such file; correct its name`);
    if (statSync(path).isDirectory())
      throw new UserError(
        `Cannot read ${shownPath}: it is a folder; name the files in it, as in ${shownPath.replace(/[/\\]$/, "")}/*`,
      );
  }
  const folders = new Set(paths.map((path) => resolve(path, "..")));
  const names = paths.map((path) => nameIn(target, path, folders.size > 1));
  const twice = names.find((name, index) => names.indexOf(name) !== index);
  if (twice !== undefined) throw new UserError(`Cannot copy the exports: two of them would be ${twice}; rename one`);
  return paths.map((path, index) => ({ path, shownPath: relative(around.folder, path) || path, name: names[index]! }));
}

function nameIn(target: string, path: string, withFolder: boolean): string {
  const inside = relative(target, path);
  if (!inside.startsWith("..") && resolve(target, inside) === path && inside !== path)
    return inside.split(sep).join("/");
  const folder = withFolder ? `${basename(resolve(path, ".."))}/` : "";
  return `exports/${folder}${basename(path)}`;
}

/** Asks the weightiest questions one by one; an empty answer takes the guess. */
async function answersTo(around: Surroundings, questions: PlacedQuestion[]): Promise<WorkspaceAnswers> {
  const { ask } = around;
  if (ask === undefined) return {};
  const asked = questions
    .filter(({ options, kind }) => options.length > 1 && kind !== undefined)
    .toSorted((a, b) => b.cells - a.cells)
    .slice(0, MOST_ASKED);
  const answers: Record<string, Record<string, string>> = {};
  for (const [index, { id, kind = "", text, options }] of asked.entries()) {
    const listed = options.map((option, place) => `${place + 1} ${option}`).join(", ");
    const said = (
      await ask(`${index + 1} of ${asked.length}: ${printable(text)}\n  ${printable(listed)} [1]: `)
    ).trim();
    const chosen = chosenOption(said, options);
    if (chosen !== undefined) answers[kind] = { ...answers[kind], [id]: chosen };
  }
  return answers;
}

/** By its number, or by its first letters where those are one option's alone. An empty answer takes the guess, another leaves it open. */
function chosenOption(said: string, options: string[]): string | undefined {
  if (said === "") return options[0];
  if (/^\d+$/.test(said)) return options[Number(said) - 1];
  const begun = options.filter((option) => option.toLowerCase().startsWith(said.toLowerCase()));
  return begun.length === 1 ? begun[0] : options.find((option) => option.toLowerCase() === said.toLowerCase());
}

function madeText(drafted: DraftedWorkspace, { target, shownFolder }: { target: string; shownFolder: string }): string {
  const { pipelines, settings, questions, lacks, aside } = drafted;
  const files = pipelines.reduce((sum, { draft }) => sum + draft.files.length, 0);
  const count = (number: number, one: string, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;
  const open =
    questions.length === 0
      ? "nothing is left to confirm"
      : `${count(questions.length, "thing is", "things are")} left to confirm`;
  const sentence = `Made a workspace in ${target} from ${count(files, "export")}: ${count(settings.fleets.length, "fleet")}, ${count(settings.slots.length, "slot")}, ${count(pipelines.length, "pipeline")}; ${open}.`;
  const made = pipelines.map(
    ({ draft }) =>
      `  ${draft.name}: ${draft.title.toLowerCase()}, ${counted(draft.rows, "row")} of ${draft.files.join(", ")}`,
  );
  const unused = pipelines.filter(({ draft }) => draft.unmatched.length > 0);
  const go = shownFolder === "." ? "framelife run" : `framelife run --workspace ${shownFolder}`;
  return [
    sentence,
    "",
    ...made.map(printable),
    ...section(
      "Left aside:",
      aside.map(({ shownPath, why }) => `  ${printable(shownPath)}: ${printable(why)}`),
    ),
    ...section(
      "Columns that are not used:",
      unused.map(({ draft }) => `  ${draft.name}: ${printable(columnList(draft.unmatched))}`),
    ),
    ...section(
      "What is missing, and what it costs:",
      lacks.map((lack) => `  ${printable(lackSentence(lack))}`),
    ),
    ...section(
      'To confirm, each a "# confirm" line in its file:',
      questions.map(({ file, text }) => `  ${printable(file)}: ${printable(text)}`),
    ),
    "",
    `Next: ${go}`,
  ].join("\n");
}

function section(title: string, lines: string[]): string[] {
  return lines.length === 0 ? [] : ["", title, ...lines];
}
