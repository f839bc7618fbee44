import type { Estimate, LifeAnswer } from "../questions/answer.ts";
import { inWords } from "../questions/wording.ts";
import type { AnswerTable } from "./print-answer.ts";

const FIGURES = ["shape", "scale", "l10", "median", "mean"] as const;

/** The groups of a `life` answer as a table: for people, and in full for a CSV file. */
export function lifeTable({ groups }: LifeAnswer): AnswerTable {
  const by = Object.keys(groups[0]?.by ?? {});
  const counts = ["lives", "failed", "suspended", "running", "unknown"] as const;
  return {
    text: {
      headers: [...by, "lives", "failed", "shape", "L10", "median"],
      right: [...by.map(() => false), true, true, true, true, true],
      rows: groups.map((group) => [
        ...by.map((name) => group.by[name] ?? ""),
        String(group.basis.lives),
        String(group.basis.failed),
        ...[group.shape, group.l10, group.median].map(shortly),
      ]),
    },
    csv: {
      headers: [
        ...by,
        ...counts,
        ...FIGURES.flatMap((name) => [name, `${name}_low`, `${name}_high`]),
        "log_likelihood",
        "reason",
      ],
      rows: groups.map((group) => [
        ...by.map((name) => group.by[name] ?? ""),
        ...counts.map((name) => group.basis[name]),
        ...FIGURES.flatMap((name) => [group[name].estimate, group[name].low, group[name].high]),
        group.logLikelihood,
        group.l10.reason ?? null,
      ]),
    },
  };
}

/** "5,910 (4,720 to 7,130)"; a dash where there is no estimate, the reason stands in the warnings. */
export function shortly({ estimate, low, high }: Estimate): string {
  if (estimate === null) return "–";
  return `${inWords(estimate)} (${low === null ? "?" : inWords(low)} to ${high === null ? "?" : inWords(high)})`;
}
