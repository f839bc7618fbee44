import type { BenchAnswer, BenchGroup } from "./bench-answer.ts";
import { shareWords } from "./bench-sentence.ts";
import { outcomeWarnings } from "./conditions.ts";
import { mergedWarnings } from "./merged-warnings.ts";
import { allOf, count, inWords } from "./wording.ts";

/** Limits that come from fewer readings are known loosely: common practice, no source. */
const ENOUGH_READINGS = 20;
/** Readings that break a rule are said where they are so many times what chance gives. */
const BEYOND_CHANCE = 2;

/** What to be careful of in an answer of the bench. */
export function benchWarnings(answer: BenchAnswer, where: string | undefined): string[] {
  const { groups, fitter } = answer;
  const warned = groups.map((group) => ({ title: group.title, warnings: groupWarnings(group) }));
  return [
    ...(fitter === null
      ? []
      : [
          `these are one fitter's own builds: what sets them apart from others can be chance, or the frames and places that came to the bench`,
        ]),
    ...outcomeWarnings(where),
    ...(groups.length === 1 ? warned[0]!.warnings : mergedWarnings(warned)),
  ];
}

function groupWarnings(group: BenchGroup): string[] {
  return [...readingWarnings(group), ...shimWarnings(group), ...comebackWarnings(group)];
}

function readingWarnings({ asBuilt }: BenchGroup): string[] {
  const { readings, chart, copied, window, unit } = asBuilt;
  if (readings === 0) return [];
  const odd = asBuilt.outside.of > 0 && 2 * asBuilt.outside.count > asBuilt.outside.of;
  return [
    ...(copied.length === 0 ? [] : [`readings look copied rather than taken (${allOf(copied)})`]),
    ...(odd && window !== null
      ? [`more than half of the readings lie outside the window: are they in ${unit ?? "its unit"}?`]
      : []),
    ...(chart.limits !== null && readings < ENOUGH_READINGS
      ? [`control limits come from ${count(readings, "reading")} only; ${ENOUGH_READINGS} would tell them`]
      : []),
    ...(chart.breaks > BEYOND_CHANCE * Math.max(1, chart.breaksByChance)
      ? [
          `${count(chart.breaks, "reading breaks", "readings break")} a run rule, where chance alone gives about ${inWords(Math.max(1, Math.round(chart.breaksByChance)))}: the level of end play moves with time`,
        ]
      : []),
  ];
}

function shimWarnings({ shims, asBuilt: { unit } }: BenchGroup): string[] {
  if (shims === null || shims.checked === 0) return [];
  const { estimate, low, high } = shims.meanDifference;
  const alike = low !== null && high !== null && (low > 0 || high < 0);
  return [
    ...(shims.flaggedInAll === 0
      ? []
      : [
          `${count(shims.flaggedInAll, "card gives", "cards give")} shims that don't leave the end play read; the latest is ${shims.flagged[0]!.card}: look whether shims or reading were written wrong`,
        ]),
    ...(shims.gaugeSd === null
      ? [
          "how far the gauge strays is not known: differences are held against half a thou a reading (framelife gauge plan)",
        ]
      : []),
    ...(alike
      ? [
          `readings lie ${inWords(Math.abs(estimate!))}${unit === null ? "" : ` ${unit}`} ${estimate! > 0 ? "above" : "below"} what shims leave in the mean (${inWords(low)} to ${inWords(high)}): a reference face, or the side on which shims lie, may be off`,
        ]
      : []),
  ];
}

function comebackWarnings({ comebacks }: BenchGroup): string[] {
  if (comebacks === null) return [];
  const { unknown, unknownAsFailure, share, limit } = comebacks;
  return unknown === 0 || unknownAsFailure === null || share.estimate === null
    ? []
    : [
        `${count(unknown, "build", "builds")} came back within ${count(limit, "day")} with nothing said of why; taken as failures they make it ${shareWords(unknownAsFailure)}`,
      ];
}
