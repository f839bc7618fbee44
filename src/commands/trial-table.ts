import type {
  AssignedBuild,
  TrialAssignAnswer,
  TrialComparison,
  TrialPlanAnswer,
  TrialReadAnswer,
} from "../questions/trial-answer.ts";
import { inWords } from "../questions/wording.ts";
import type { Cell } from "./csv-file.ts";
import type { AnswerTable, TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";
import { textTable } from "./text-table.ts";

/** What each ratio of lives takes, the looks, and where the protocol is kept. */
export function planTable(answer: TrialPlanAnswer): AnswerTable {
  const { needs, looks, did, kept, protocol } = answer;
  const chance = (p: number | null) => (p === null ? "none may stop it" : p < 0.0001 ? "under 0.0001" : inWords(p));
  return {
    text: {
      headers: ["ratio of lives", "failures", "months", "builds"],
      right: [true, true, true, true],
      rows: needs.map(({ ratio, failures, months, builds }) => [
        inWords(ratio),
        inWords(failures),
        months === null ? "–" : inWords(Math.ceil(months)),
        builds === null ? "–" : inWords(builds),
      ]),
    },
    ...(looks.length > 0 && {
      more: [
        {
          title: "Looks at the trial",
          table: {
            headers: ["failures", "p that stops it"],
            right: [true, true],
            rows: looks.map(({ failures, p }) => [String(failures), chance(p)]),
          },
        },
      ],
    }),
    ...(did !== null && {
      next: `The protocol, decided on ${protocol?.decided_on}, ${did === "unchanged" ? "stands unchanged" : `is ${did}`}: ${kept}. Next: framelife trial assign --name ${answer.name} --builds 20 --csv FILE`,
    }),
    csv: {
      headers: ["ratio", "failures", "months", "builds"],
      rows: needs.map(({ ratio, failures, months, builds }) => [ratio, failures, months, builds]),
    },
  };
}

export const ASSIGN_HEADERS = [
  "build",
  "stratum",
  "block",
  "assigned",
  "low",
  "high",
  "unit",
  "built",
  "time",
  "status",
];

/** A line of the list with blanks for what the build becomes. */
export function assignRow({ build, stratum, block, assigned, low, high }: AssignedBuild): Cell[] {
  return [build, stratum, block, assigned, low, high, null, null, null, null];
}

/** The list as a bench sheet: how it is kept, a line a build. Blocks are left out: they would tell what comes next. */
export function assignSheet(
  { answer, builds, unit, instructions, cautions }: TrialAssignAnswer,
  bold: (text: string) => string,
): string {
  const blank = "_".repeat(10);
  const rows = builds.map(({ build, stratum, assigned, low, high }) => [
    ...[build, stratum, assigned, `${inWords(low)} to ${inWords(high)} ${unit}`],
    ...[blank, blank],
  ]);
  const listed = (sentences: string[]) => sentences.map((sentence) => `- ${sentence}.`).join("\n");
  return [
    bold(answer),
    `${bold("How it is kept")}\n${listed(instructions)}`,
    `${bold("Careful")}\n${listed(cautions)}`,
    textTable(
      ["build", "stratum", "band", "end play", "unit", "built"],
      rows,
      rows.map(() => false),
    ),
  ].join("\n\n");
}

/** A trial as assigned and as built, and the builds that missed their band. */
export function readTable(answer: TrialReadAnswer): AnswerTable {
  const { asAssigned, asBuilt, missed } = answer;
  const known = "arms" in asBuilt ? [{ title: "As built", table: comparisonTable(asBuilt) }] : [];
  const compared = [
    ["as assigned", asAssigned] as const,
    ...("arms" in asBuilt ? [["as built", asBuilt] as const] : []),
  ];
  return {
    text: comparisonTable(asAssigned),
    ...(answer.planned !== null && { limits: limitsWords(answer) }),
    more: [
      ...known,
      {
        title: "Builds that did not come out as assigned",
        table: {
          headers: ["assigned", "missed", "of"],
          right: [false, true, true],
          rows: missed.map(({ arm, builds, of }) => [arm, inWords(builds), inWords(of)]),
        },
      },
    ],
    csv: {
      headers: ["compared", "arm", "builds", "failed", "expected", "life_ratio", "low", "high", "p"],
      rows: compared.flatMap(([name, { arms, lifeRatio, p }]) =>
        arms.map(({ arm, builds, failed, expected }) => [
          ...[name, arm, builds, failed, expected],
          ...[lifeRatio.estimate, lifeRatio.low, lifeRatio.high, p],
        ]),
      ),
    },
  };
}

function limitsWords({ allowed, level, asAssigned: { lifeRatio } }: TrialReadAnswer): string {
  const inPercent = (share: number) => `${Number((100 * share).toPrecision(6))} %`;
  if (allowed === null || (lifeRatio.low === null && lifeRatio.high === null)) return "none at this look";
  return `${inPercent(1 - allowed)} at this look, so that all looks together hold ${inPercent(level)}`;
}

function comparisonTable({ arms, lifeRatio, p, by }: TrialComparison): TextTable {
  return {
    headers: ["arm", "builds", "failed", "expected were they alike", "ratio of lives", `p by ${by}`],
    right: [false, true, true, true, true, true],
    rows: arms.map(({ arm, builds, failed, expected }, at) => [
      ...[arm, inWords(builds), inWords(failed), inWords(expected)],
      ...(at === 0 ? [shortly(lifeRatio), p === null ? "–" : p < 0.0001 ? "under 0.0001" : inWords(p)] : ["", ""]),
    ]),
  };
}
