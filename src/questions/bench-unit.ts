import type { DuckDBConnection } from "@duckdb/node-api";
import { inUnitsOf } from "../lives/units.ts";
import { columns } from "../store/columns.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { type LengthUnit, MM_PER } from "../workspace/lengths.ts";
import type { BenchWindow } from "./bench-answer.ts";
import { allowedDifference, shimmedPlay } from "./bench-shims.ts";
import type { BenchBuild, BenchCheck, BenchMeasures, BenchReturn, BenchUnitAnswer } from "./bench-unit-answer.ts";
import { benchBlanks } from "./bench-unit-blanks.ts";
import { knownUnit } from "./bench-unit-name.ts";
import { benchUnitSentence } from "./bench-unit-sentence.ts";
import { benchGauge, benchWindow } from "./bench-window.ts";
import { askDossiers } from "./dossier.ts";
import type { DossierBuild } from "./dossier-types.ts";
import { rowsCommand } from "./rows-command.ts";
import type { Source } from "./scope.ts";
import { sideOf } from "./window-side.ts";
import { WORK_CAUTIONS } from "./work-cautions.ts";

/** What the sheet of a frame is asked: readings in the workspace's unit of length. */
export type BenchUnitQuestion = {
  unit: string;
  fleet?: string;
  reading?: number;
  withoutShims?: number;
  shims?: number;
  /** The workspace's folder where the command named one. */
  folder?: string;
};

/** Builds that a sheet shows: the latest. */
const BUILDS = 3;

/** The sheet of one frame: its last builds, why it came back, and what is to be filled in. The connection holds `installation`, `known_unit` and `as_of`. */
export async function askBenchUnit(
  connection: DuckDBConnection,
  question: BenchUnitQuestion,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<BenchUnitAnswer> {
  const { configuration } = source;
  const { fleet, unit } = await knownUnit(connection, question);
  const [dossier] = await askDossiers(connection, {
    ...{ fleet, kind: "unit", ids: [unit], clock: configuration.clock },
    ...(question.folder !== undefined && { folder: question.folder }),
  });
  const latest = dossier!.builds.slice(-BUILDS).toReversed();
  const cards = await cardsOf(connection, { fleet, unit }, configuration.display);
  const answer: BenchUnitAnswer = {
    schema: 1,
    command: "bench unit",
    answer: "",
    asOf: source.asOf,
    clock: configuration.clock,
    fleet,
    fleetTitle: configuration.fleets.find(({ name }) => name === fleet)?.title ?? fleet,
    unit,
    ...(await standing(connection, fleet, unit)),
    unitOfLength: configuration.display.length,
    unitOfTemperature: configuration.display.temperature,
    window: benchWindow(source),
    shims: configuration.shims,
    came: cameBy(cards, dossier!.builds),
    builds: latest.map((build) => withMeasures(build, cards)),
    buildsInAll: dossier!.buildsInAll,
    check: checkOf(question, source),
    blanks: benchBlanks(configuration),
    cautions: WORK_CAUTIONS,
    warnings: [],
    rows: rowsCommand("built", { fleet, where: `unit = '${unit.replaceAll("'", "''")}'` }, source),
  };
  answer.answer = benchUnitSentence(answer, configuration);
  answer.warnings = warningsOf(answer);
  return answer;
}

async function standing(
  connection: DuckDBConnection,
  fleet: string,
  unit: string,
): Promise<Pick<BenchUnitAnswer, "model" | "site" | "position">> {
  const found = await columns(
    connection,
    `with told as (
       select model, site, position, coalesce(removed_on, received_on, built_on, installed_on) as day from records.rebuild where fleet = $fleet and unit = $unit
       union all
       select model, site, position, commissioned_on from records.unit where fleet = $fleet and unit = $unit
     )
     select coalesce(arg_max(model, day) filter (model is not null), any_value(model), '') as model,
            coalesce(arg_max(site, day) filter (site is not null), any_value(site), '') as site,
            coalesce(arg_max(position, day) filter (position is not null), any_value(position), '') as position
     from told, as_of where day is null or day <= as_of`,
    { model: "text", site: "text", position: "text" },
    { fleet, unit },
  );
  return { model: found.model[0] || null, site: found.site[0] || null, position: found.position[0] || null };
}

type Card = BenchMeasures & Omit<BenchReturn, "back" | "built"> & { builtOn: string | null };

async function cardsOf(
  connection: DuckDBConnection,
  of: { fleet: string; unit: string },
  display: Configuration["display"],
): Promise<Card[]> {
  const found = await columns(
    connection,
    `select card, coalesce(removed_on, received_on, built_on, installed_on)::varchar as removed_on, coalesce(reason, '') as reason,
            coalesce(failed_slot, '') as failed_slot,
            coalesce(case when built_on <= as_of then built_on end::varchar, '') as built_on,
            round(end_play_mm / $mm_per_length, 6) as end_play, round(end_play_found_mm / $mm_per_length, 6) as found,
            round(coalesce(end_play_unshimmed_mm, race_depth_mm - spigot_height_mm) / $mm_per_length, 6) as without_shims, round(shims_mm / $mm_per_length, 6) as shims,
            round(case when $fahrenheit then ring_temperature_c * 9 / 5 + 32 else ring_temperature_c end, 6) as ring
     from records.rebuild, as_of
     where fleet = $fleet and unit = $unit and coalesce(removed_on, received_on, built_on, installed_on) <= as_of
     order by coalesce(removed_on, received_on, built_on, installed_on), card`,
    {
      ...{
        card: "text",
        removed_on: "text",
        reason: "text",
        failed_slot: "text",
        built_on: "text",
        end_play: "number",
      },
      ...{ found: "number", without_shims: "number", shims: "number", ring: "number" },
    },
    { ...of, ...inUnitsOf(display) },
  );
  const known = (value: number) => (Number.isNaN(value) ? null : value);
  return found.card.map((card, row) => ({
    card,
    removedOn: found.removed_on[row]!,
    reason: (found.reason[row] || null) as BenchReturn["reason"],
    failedSlot: found.failed_slot[row] || null,
    builtOn: found.built_on[row] || null,
    endPlay: known(found.end_play[row]!),
    endPlayFound: known(found.found[row]!),
    withoutShims: known(found.without_shims[row]!),
    shims: known(found.shims[row]!),
    ringTemperature: known(found.ring[row]!),
  }));
}

function cameBy(cards: Card[], builds: DossierBuild[]): BenchReturn | null {
  const last = cards.at(-1);
  if (last === undefined) return null;
  const { card, removedOn, reason, failedSlot, endPlayFound, builtOn, endPlay, withoutShims, shims, ringTemperature } =
    last;
  const back = builds.some((build) => build.card === card);
  const measures = { endPlay, withoutShims, shims, ringTemperature };
  const built = back || builtOn === null ? null : { on: builtOn, measures };
  return { card, removedOn, reason, failedSlot, endPlayFound, back, built };
}

function withMeasures(build: DossierBuild, cards: Card[]): BenchBuild {
  const own = cards.find(({ card }) => card === build.card);
  const end = cards.find(({ card }) => card === build.endCard);
  return {
    ...build,
    measures: {
      endPlay: own?.endPlay ?? build.endPlay,
      endPlayFound: end?.endPlayFound ?? null,
      withoutShims: own?.withoutShims ?? null,
      shims: own?.shims ?? null,
      ringTemperature: own?.ringTemperature ?? null,
    },
  };
}

function checkOf({ reading, withoutShims, shims }: BenchUnitQuestion, source: Source): BenchCheck | null {
  if (reading === undefined || source.kind === "table") return null;
  const { configuration } = source;
  const own = { reading, side: checkedSide(reading, benchWindow(source), configuration.display.length) };
  if (withoutShims === undefined || shims === undefined) {
    return { ...own, withoutShims: null, shims: null, expected: null, allowed: null, agrees: null };
  }
  const expected = shimmedPlay(withoutShims, shims, configuration.shims);
  const gauge = benchGauge(undefined, source);
  const { withPlay: allowed } = allowedDifference(gauge, MM_PER[configuration.display.length]);
  return { ...own, withoutShims, shims, expected, allowed, agrees: Math.abs(reading - expected) <= allowed };
}

function checkedSide(reading: number, window: BenchWindow | null, unit: LengthUnit): BenchCheck["side"] {
  return window === null ? null : (sideOf(reading, window, unit) ?? "inside");
}

function warningsOf({ window, came, builds, buildsInAll, check }: BenchUnitAnswer): string[] {
  return [
    ...(window === null
      ? ["no window of end play is named: give windows: end_play: in framelife.yaml, from the maker's manual"]
      : [`the window is the workspace's (${window.source}); where the maker's manual says otherwise, follow it`]),
    ...(came?.built
      ? [`the frame stands built since ${came.built.on} and has not gone back: this sheet is of its next visit`]
      : []),
    ...(builds[0]?.retired ? [`by the records the frame has been out of use since ${builds[0].stop}`] : []),
    ...(came?.back ? ["no card says that the frame has come out again: its last return is behind it"] : []),
    ...(buildsInAll === 0 ? ["no build of the frame is on record before this one"] : []),
    ...(check?.side === "below" || check?.side === "above"
      ? ["the reading lies outside the window: do not let the frame go by this sheet"]
      : []),
    ...(check?.agrees === false
      ? [
          "the reading is not what the shims should leave, and the gauge does not explain it: measure depth, spigot and shims again",
        ]
      : []),
  ];
}
