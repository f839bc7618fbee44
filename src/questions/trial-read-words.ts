import type { Protocol } from "../workspace/protocol.ts";
import type { TrialReadAnswer } from "./trial-answer.ts";
import type { TrialBuilds } from "./trial-builds.ts";
import { allOf, count, inWords, withLimits } from "./wording.ts";

/** The answer in one sentence: the arms as assigned, the ratio with its limits, the verdict at this look, builds that missed their band. */
export function readSentence({
  arms,
  asAssigned,
  basis,
  planned,
  allowed,
  reason,
  verdict,
  missed,
}: TrialReadAnswer): string {
  const seen = planned === null ? count(basis.failed, "failure") : `${basis.failed} of ${planned} failures`;
  const { lifeRatio, p } = asAssigned;
  const ratio =
    lifeRatio.estimate === null
      ? `builds assigned ${arms[0]} and ${arms[1]} can't be set against each other in one ratio`
      : `builds assigned ${arms[0]} last ${withLimits(lifeRatio, " times")} as long as those assigned ${arms[1]}`;
  const chance = p === null ? `no p, for ${asAssigned.reason}` : `p ${chanceWords(p)}`;
  const stops =
    allowed === null ? (reason ?? "this look may not stop the trial") : `${chanceWords(allowed)} or less would show it`;
  const [lost, of] = missed.reduce(([a, b], one) => [a + one.builds, b + one.of], [0, 0]);
  const off = of === 0 ? "" : ` ${inWords(lost)} of ${count(of, "build")} did not come out as assigned.`;
  return `At ${seen} ${ratio}: ${verdict} (${chance}; ${stops}).${off}`;
}

function chanceWords(p: number): string {
  return p < 0.0001 ? "under 0.0001" : inWords(p);
}

/** Missing so often makes the arms alike: common practice, no source. */
const OFTEN = 0.1;

/** What to be careful of in a trial. */
export function readWarnings(answer: TrialReadAnswer, builds: TrialBuilds, protocol: Protocol | null): string[] {
  const { asAssigned, basis, planned, verdict } = answer;
  const { block, unitsKnown } = builds;
  return [
    ...lookWarnings(answer, protocol),
    ...(asAssigned.lifeRatio.reason === undefined
      ? []
      : [`there is no ratio of lives: ${asAssigned.lifeRatio.reason}`]),
    ...(basis.failed < 10 && block === null
      ? [
          "under 10 failures and no blocks on record: p is rough; a column block, or the protocol (--name), lets it be found by re-randomisation",
        ]
      : []),
    ...(unitsKnown ? [] : ["limits take each build as independent: units are not on record for all"]),
    ...openedWarnings(builds),
    ...missedWarnings(answer, builds, protocol),
    ...("reason" in answer.asBuilt && !("arms" in answer.asBuilt)
      ? []
      : ["as built is no fair comparison: what made a build miss its band may matter itself"]),
    ...((verdict === "longer" || verdict === "shorter") && planned !== null && basis.failed < planned
      ? ["a trial that stops before all its failures are seen overstates the difference on average"]
      : []),
    ...(verdict === "go on" && planned !== null
      ? ["nobody who builds or judges removals should see this before the trial ends"]
      : []),
    ...(protocol?.amendments ?? []).map(({ on, reason }) => `the protocol was changed on ${on}: ${reason}`),
  ];
}

const NAMED = 3;

function openedWarnings({ opened }: TrialBuilds): string[] {
  if (opened.length === 0) return [];
  const such = `${opened.length > NAMED ? "such as " : ""}${allOf(opened.slice(0, NAMED))}`;
  return [
    `${count(opened.length, "line that was opened or passed over has", "lines that were opened or passed over have")} no time (${such}) and ${opened.length === 1 ? "is" : "are"} left out: a line counts once it is opened; give its time so far, status 0 where nothing failed`,
  ];
}

/** Where builds came out otherwise than assigned: by the wrong unit, by names mixed up, or by missing the band. */
function missedWarnings(
  { arms, missed }: TrialReadAnswer,
  { assigned, built, readings }: TrialBuilds,
  protocol: Protocol | null,
): string[] {
  const known = built.filter((arm) => arm >= 0).length;
  const neither = built.filter((arm) => arm === 2).length;
  const read = readings.filter((reading, at) => built[at] === 2 && Number.isFinite(reading)).toSorted();
  const crossed = built.reduce((sum, arm, at) => sum + (arm === 1 - assigned[at]! ? 1 : 0), 0);
  const out =
    neither === 0
      ? []
      : [
          `${count(neither, "build")} came out in neither band and ${neither === 1 ? "is" : "are"} not compared as built`,
        ];
  if (protocol !== null && 2 * read.length > known) {
    const span = `${inWords(read[0]!)} to ${inWords(read.at(-1)!)}`;
    return [
      `${inWords(read.length)} of ${count(known, "build")} were read outside both bands (${span}): readings under built are taken in ${protocol.plan.unit}; are they in another unit?`,
      ...out,
    ];
  }
  if (2 * crossed > known) {
    return [
      `${inWords(crossed)} of ${count(known, "build")} came out in the other band than the one that they fell to: are ${arms[0]} and ${arms[1]} mixed up?`,
      ...out,
    ];
  }
  const often = missed.filter(({ builds, of }) => of > 0 && builds > OFTEN * of);
  return [
    ...(often.length === 0
      ? []
      : [
          `many builds assigned ${allOf(often.map(({ arm }) => arm))} missed it, which makes the arms more alike than their bands`,
        ]),
    ...out,
  ];
}

function lookWarnings({ basis, earlier, planned }: TrialReadAnswer, protocol: Protocol | null): string[] {
  if (planned === null) return ["no plan is known: this is taken as the only look at the trial, now or later"];
  const looks = protocol?.plan.looks ?? [];
  const passed = looks.filter((look) => look < basis.failed && !earlier.some((one) => one >= look));
  return [
    ...(looks.length > 0 && !looks.includes(basis.failed)
      ? [`the protocol looks at ${allOf(looks.map(String))} failures: name this one with --earlier from now on`]
      : []),
    ...(passed.length === 0
      ? []
      : [`if the trial was looked at near ${allOf(passed.map(String))} failures, name those looks with --earlier`]),
  ];
}
