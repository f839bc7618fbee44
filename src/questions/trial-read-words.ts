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
export function readWarnings(
  answer: TrialReadAnswer,
  { block, unitsKnown }: TrialBuilds,
  protocol: Protocol | null,
): string[] {
  const { asAssigned, basis, missed, planned, verdict } = answer;
  const often = missed.filter(({ builds, of }) => of > 0 && builds > OFTEN * of);
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
    ...(often.length === 0
      ? []
      : [
          `many builds assigned ${allOf(often.map(({ arm }) => arm))} missed it, which makes the arms more alike than their bands`,
        ]),
    ...("reason" in answer.asBuilt && !("arms" in answer.asBuilt)
      ? []
      : ["as built is no fair comparison: what made a build miss its band may matter itself"]),
    ...(verdict === "go on" && planned !== null
      ? ["nobody who builds or judges removals should see this before the trial ends"]
      : []),
    ...(protocol?.amendments ?? []).map(({ on, reason }) => `the protocol was changed on ${on}: ${reason}`),
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
