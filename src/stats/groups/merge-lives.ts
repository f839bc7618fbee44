import type { GatheredLives } from "../weibull/gathered-lives.ts";

/**
 * The lives of several groups as those of one.
 * @param logFactors - log of what a group's ages are divided by first; 0 where not given
 */
export function mergeLives(groups: GatheredLives[], logFactors?: number[]): GatheredLives {
  const centres = groups.map(({ typicalLog }, at) => typicalLog - (logFactors?.[at] ?? 0));
  const failures = groups.reduce((sum, group) => sum + group.failures, 0);
  const typicalLog = weightedMean(groups, centres, failures);
  const shifts = centres.map((centre) => centre - typicalLog);
  const shifted = (key: "z" | "lowZ" | "highZ") =>
    joined(groups.map((group, at) => group[key].map((position) => position + shifts[at]!)));
  const squares = groups.reduce((sum, group, at) => sum + group.failures * (group.spread ** 2 + shifts[at]! ** 2), 0);
  return {
    typicalLog,
    spread: failures === 0 ? 0 : Math.sqrt(squares / failures),
    failures,
    exact: groups.reduce((sum, { exact }) => sum + exact, 0),
    exactSum: groups.reduce((sum, { exact, exactSum }, at) => sum + exactSum + exact * shifts[at]!, 0),
    z: shifted("z"),
    weight: joined(groups.map(({ weight }) => weight)),
    lowZ: shifted("lowZ"),
    highZ: shifted("highZ"),
    width: joined(groups.map(({ width }) => width)),
    intervalCount: joined(groups.map(({ intervalCount }) => intervalCount)),
  };
}

function weightedMean(groups: GatheredLives[], centres: number[], failures: number): number {
  if (failures === 0) return centres[0] ?? 0;
  return groups.reduce((sum, group, at) => sum + group.failures * centres[at]!, 0) / failures;
}

function joined(columns: Float64Array[]): Float64Array {
  const all = new Float64Array(columns.reduce((size, column) => size + column.length, 0));
  let from = 0;
  for (const column of columns) {
    all.set(column, from);
    from += column.length;
  }
  return all;
}
