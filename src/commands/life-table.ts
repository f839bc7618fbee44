import type { LifeAnswer } from "../questions/answer.ts";
import { lifeSections } from "./life-sections.ts";
import type { AnswerTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

const FIGURES = ["shape", "scale", "l10", "median", "mean"] as const;

/** The groups of a `life` answer as a table: for people, and in full for a CSV file. */
export function lifeTable(answer: LifeAnswer): AnswerTable {
  const { groups } = answer;
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
    more: lifeSections(answer),
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
