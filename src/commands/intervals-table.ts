import type { IntervalsAnswer } from "../questions/answer.ts";
import { inWords } from "../questions/wording.ts";
import type { AnswerTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

const KINDS = ["all", "failure", "planned"] as const;

/** The groups of an `intervals` answer as a table: for people, and in full for a CSV file. */
export function intervalsTable({ groups }: IntervalsAnswer): AnswerTable {
  const by = Object.keys(groups[0]?.by ?? {});
  return {
    text: {
      headers: [...by, "units", "service", "failures", "planned", "per rebuild", "per failure", "median interval"],
      right: [...by.map(() => false), true, true, true, true, true, true, true],
      rows: groups.map((group) => [
        ...by.map((name) => group.by[name] ?? ""),
        String(group.units),
        inWords(group.exposure),
        String(group.events.failure),
        String(group.events.planned),
        ...[group.mtbr.all, group.mtbr.failure, group.medianInterval].map(shortly),
      ]),
    },
    csv: {
      headers: [
        ...by,
        ...["units", "exposure", "failures", "planned"],
        ...KINDS.flatMap((kind) => [`mtbr_${kind}`, `mtbr_${kind}_low`, `mtbr_${kind}_high`]),
        ...["median_interval", "median_interval_low", "median_interval_high"],
      ],
      rows: groups.map((group) => [
        ...by.map((name) => group.by[name] ?? ""),
        ...[group.units, group.exposure, group.events.failure, group.events.planned],
        ...KINDS.flatMap((kind) => [group.mtbr[kind].estimate, group.mtbr[kind].low, group.mtbr[kind].high]),
        ...[group.medianInterval.estimate, group.medianInterval.low, group.medianInterval.high],
      ]),
    },
  };
}
