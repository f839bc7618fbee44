import { aloneAmongFailures } from "./alone-among-failures.ts";
import type { Climb } from "./climb.ts";
import type { LifeModel } from "./life-model.ts";

/** Why a likelihood has no top, in words that name the covariates. */
export function whyNoTop(model: LifeModel, climb: Lost): string {
  return (
    shapeAway(model, climb, FAR) ?? aloneAmongFailures(model) ?? shapeAway(model, climb, SOME) ?? fastest(model, climb)
  );
}

/** By how much, on the log scale, a shape may move before that is what is wrong: surely, and where nothing else is. */
const FAR = 7;
const SOME = 2;

type Lost = Extract<Climb, { found: false }>;

function shapeAway({ standard }: LifeModel, { at, start }: Lost, least: number): string | null {
  if (!standard.fitsShape) return null;
  const growth = Math.log(at.at(-1)! / start.at(-1)!);
  if (growth > least) return "the likelihood keeps rising as the shape grows: the covariates tell every failure's age";
  return growth < -least ? "the likelihood keeps rising as the shape falls to 0: no best shape exists" : null;
}

function fastest({ standard }: LifeModel, { step }: Lost): string {
  const paces = standard.columns.map((_, one) => Math.abs(step[one + 1]!));
  const most = Math.max(...paces);
  const column = standard.columns[paces.indexOf(most)];
  return column === undefined || !Number.isFinite(most)
    ? "the likelihood shows no maximum"
    : `the coefficient of "${column.name}" runs away: the likelihood keeps rising along it`;
}
