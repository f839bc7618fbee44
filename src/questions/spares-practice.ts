import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";
import type { WhatIfChanges } from "../workspace/what-if.ts";
import { askCompare } from "./compare.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import { MATTERS } from "./matters.ts";
import type { Source } from "./scope.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { inWords } from "./wording.ts";

/** How much longer lives of a slot would be in each fleet by another practice of building, as the build study has it. */
export type PracticeRatio = { slot: string; byFleet: Map<string, number>; words: string };

type Asked = { question: SparesQuestion; source: Extract<Source, { kind: "workspace" }>; fleets: string[] };

/** Ratios of lives by the end play and lube asked for, of the first bearing declared, to those of the frames as they are built now. */
export async function practiceRatios(
  connection: DuckDBConnection,
  { end_play: endPlay, lube }: WhatIfChanges,
  asked: Asked,
): Promise<{ found: PracticeRatio[]; warnings: string[] }> {
  const found: PracticeRatio[] = [];
  const warnings: string[] = [];
  if (endPlay !== undefined) {
    const study = await studied(connection, "end_play", asked);
    found.push(await byEndPlay(connection, study, endPlay, asked));
    warnings.push(...evidence(study));
  }
  if (lube !== undefined) {
    const study = await studied(connection, "lube", asked);
    found.push(await byLube(connection, study, lube, asked));
    warnings.push(...evidence(study));
  }
  return { found, warnings };
}

async function studied(
  connection: DuckDBConnection,
  effect: string,
  { question, source }: Asked,
): Promise<CompareAnswer> {
  const { fleet, clock, level, seed } = question;
  return askCompare(
    connection,
    {
      ...{ effect, by: [], clock, level, seed, model: "aft", straight: false, matters: MATTERS },
      ...(fleet !== undefined && { fleet }),
    },
    source,
  );
}

function evidence({ effect, verdict, answer }: CompareAnswer): string[] {
  const what = effect.replaceAll("_", " ");
  return [
    `the ratio by ${what} is the estimate of the build study, which says: ${answer}`,
    ...(verdict === "not enough evidence"
      ? [`there is not enough evidence that ${what} makes a difference: take this as a question, not a plan`]
      : []),
  ];
}

/** Life at the end play asked for, over the mean of lives at the end plays that a fleet's frames are built to. */
async function byEndPlay(
  connection: DuckDBConnection,
  study: CompareAnswer,
  value: number,
  { fleets }: Asked,
): Promise<PracticeRatio> {
  const { curve, slot } = study;
  const [first, last] = [curve[0], curve.at(-1)];
  if (first === undefined || last === undefined || slot === null) {
    throw new UserError(
      `Cannot say what another end play would do: the build study has no curve; framelife compare end_play says why`,
    );
  }
  if (value < first.x || value > last.x) {
    throw new UserError(
      `Cannot say what an end play of ${value} would do: the records reach from ${inWords(first.x)} to ${inWords(last.x)}; name one between`,
    );
  }
  const built = await columns(
    connection,
    "select fleet, end_play from life where slot = $slot and end_play is not null and start_on is not null order by life_id",
    { fleet: "text", end_play: "number" },
    { slot },
  );
  const byFleet = new Map<string, number>();
  for (const fleet of fleets) {
    const own = [...built.end_play].filter(
      (play, row) => built.fleet[row] === fleet && play >= first.x && play <= last.x,
    );
    const mean = own.reduce((sum, play) => sum + ratioAt(curve, play), 0) / own.length;
    if (own.length > 0) byFleet.set(fleet, ratioAt(curve, value) / mean);
  }
  return {
    slot,
    byFleet,
    words: `all frames built to an end play of ${inWords(value)}${ratiosInWords(byFleet, slot)}`,
  };
}

/** On the curve, straight between its points. */
function ratioAt(curve: CompareAnswer["curve"], value: number): number {
  const above = curve.findIndex(({ x }) => x >= value);
  if (above <= 0) return (curve[above] ?? curve.at(-1)!).lifeRatio;
  const [low, high] = [curve[above - 1]!, curve[above]!];
  const share = (value - low.x) / (high.x - low.x);
  return low.lifeRatio + share * (high.lifeRatio - low.lifeRatio);
}

/** Life with the lube asked for, over the mean of lives with the lubes that a fleet's frames have. */
async function byLube(
  connection: DuckDBConnection,
  study: CompareAnswer,
  lube: string,
  { fleets }: Asked,
): Promise<PracticeRatio> {
  const { slot } = study;
  const ratios = lubeRatios(study);
  const own = ratios.get(lube);
  if (own === undefined || slot === null) {
    throw new UserError(
      `Cannot say what ${lube} would do: the build study knows no life with it; framelife compare lube says which it knows`,
    );
  }
  const found = await columns(
    connection,
    "select fleet, lube, count(*)::integer as builds from life where slot = $slot and lube is not null group by all order by all",
    { fleet: "text", lube: "text", builds: "integer" },
    { slot },
  );
  const byFleet = new Map<string, number>();
  for (const fleet of fleets) {
    let [sum, builds] = [0, 0];
    for (const [row, name] of found.lube.entries()) {
      const ratio = ratios.get(name);
      if (found.fleet[row] !== fleet || ratio === undefined) continue;
      sum += ratio * found.builds[row]!;
      builds += found.builds[row]!;
    }
    if (builds > 0) byFleet.set(fleet, (own * builds) / sum);
  }
  return { slot, byFleet, words: `all frames with ${lube.replaceAll("_", " ")}${ratiosInWords(byFleet, slot)}` };
}

/** Life with each lube over that with the one that others are held against. */
function lubeRatios({ contrasts }: CompareAnswer): Map<string, number> {
  const ratios = new Map<string, number>();
  for (const { contrast, adjusted } of contrasts) {
    if (contrast.kind !== "levels" || adjusted.estimate === null) continue;
    ratios.set(contrast.second, 1);
    ratios.set(contrast.first, adjusted.estimate);
  }
  return ratios;
}

function ratiosInWords(byFleet: Map<string, number>, slot: string): string {
  const ratios = [...byFleet.values()];
  if (ratios.length === 0) return "";
  const [low, high] = [Math.min(...ratios), Math.max(...ratios)];
  const range = inWords(low) === inWords(high) ? inWords(low) : `${inWords(low)} to ${inWords(high)}`;
  return ` (${slot.replaceAll("_", " ")} last ${range} times as long as now)`;
}
