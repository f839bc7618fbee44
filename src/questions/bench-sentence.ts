import type { BenchAnswer, BenchGroup, BenchShare } from "./bench-answer.ts";
import type { Estimate } from "./estimate.ts";
import { allOf, count, inFull, inWords } from "./wording.ts";

/** More fleets than this are not told one by one. */
const TOLD = 4;

/** A share for people, with a decimal below 10 %: "3.4 % (2.2 to 5.1 %)". */
export function shareWords({ estimate, low, high }: Estimate): string {
  if (estimate === null) return "not known";
  const bare = (share: number) => {
    const percent = 100 * share;
    return percent > 0 && percent < 9.95 ? percent.toFixed(1) : percent.toFixed(0);
  };
  return low === null || high === null
    ? `${bare(estimate)} %`
    : `${bare(estimate)} % (${bare(low)} to ${bare(high)} %)`;
}

/** What leaves the bench and what comes back, in one sentence. */
export function benchSentence({ groups, fitter }: BenchAnswer, outside: BenchShare, where?: string): string {
  const whose = fitter === null ? "" : `of fitter ${fitter} `;
  if (where !== undefined && groups.every(({ basis }) => basis.builds === 0)) return `No build ${whose}meets --where.`;
  const parts = [outsideWords(groups, outside, whose), ...comebackWords(groups)];
  return `${parts.join("; ")}.`;
}

function outsideWords(groups: BenchGroup[], outside: BenchShare, whose: string): string {
  const window = groups.map(({ asBuilt }) => asBuilt.window).find((one) => one !== null);
  const unit = groups[0]?.asBuilt.unit;
  const builds = groups.reduce((sum, { basis }) => sum + basis.builds, 0);
  if (builds === 0) return `No build ${whose}is on record`;
  if (outside.estimate === null)
    return `${count(builds, `build ${whose}is`, `builds ${whose}are`)} on record; ${outside.reason}`;
  const where = window ? `${inWords(window.low)} to ${inWords(window.high)}${unit ? ` ${unit}` : ""}` : "their windows";
  const readings = count(outside.of, `build ${whose}with a reading`, `builds ${whose}with a reading`);
  return `${inFull(outside.count)} of ${readings} ${outside.count === 1 ? "lies" : "lie"} outside ${where}, ${shareWords(outside)}`;
}

function comebackWords(groups: BenchGroup[]): string[] {
  const known = groups.flatMap(({ title, comebacks }) =>
    comebacks === null || comebacks.share.estimate === null
      ? []
      : [{ title, ...comebacks, estimate: comebacks.share.estimate }],
  );
  const [first] = known;
  if (first === undefined) return [];
  const limit = `back for failure within ${count(first.limit, "day")}`;
  if (groups.length === 1) return [`${limit}: ${shareWords(first.share)}`];
  if (known.length <= TOLD) {
    return [`${limit}: ${allOf(known.map(({ title, share }) => `${shareWords(share)} at ${title}`))}`];
  }
  const ranked = known.toSorted((one, two) => one.estimate - two.estimate);
  const [low, high] = [ranked[0]!, ranked.at(-1)!];
  return [`${limit}: from ${shareWords(low.share)} at ${low.title} to ${shareWords(high.share)} at ${high.title}`];
}
