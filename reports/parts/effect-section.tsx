import type { By } from "../../src/questions/answer.ts";
import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { wordsOf } from "../../src/questions/compare-cases.ts";
import { sides } from "../../src/questions/compare-sentence.ts";
import type { EndPlay } from "../../src/questions/overview-types.ts";
import { inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { windowIn } from "../../src/workspace/lengths.ts";
import { clockTitle } from "../charts/clock-title.ts";
import { crudeAndAdjusted, MOST_CONTRASTS } from "../charts/crude-and-adjusted.ts";
import { effectCurve } from "../charts/effect-curve.ts";
import { survivalByBand } from "../charts/survival-by-band.ts";
import { bandWords } from "../text/band-words.ts";
import { bandsFinding, contrastFinding, effectFinding } from "../text/build-findings.ts";
import { partWords } from "../text/part-words.ts";
import { percentOf } from "../text/percent-of.ts";
import { Careful } from "./careful.tsx";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

type EffectProps = { answer: CompareAnswer; title: string; endPlay: EndPlay | null };

/** One effect of how frames are built: the curve, crude beside adjusted, survival by band, who was compared with whom, what would settle it. */
export function EffectSection({ answer, title, endPlay }: EffectProps) {
  return (
    <>
      <Curve answer={answer} title={title} endPlay={endPlay} />
      <Ratios answer={answer} title={title} />
      <Bands answer={answer} title={title} />
      <Compared answer={answer} endPlay={endPlay} />
      <Settled answer={answer} />
      <Careful warnings={answer.warnings} />
    </>
  );
}

function Curve({ answer, title, endPlay }: EffectProps) {
  const { curve, level, effect } = answer;
  if (curve.length === 0) return null;
  const unit = unitOfEffect(answer);
  const inUnit = unit === null ? "" : ` ${unit}`;
  const name = headOf(answer);
  const window = effect === "end_play" && endPlay?.window ? endPlay.window : null;
  const edges = window === null || endPlay === null ? null : windowIn(window, endPlay.unit);
  const points = curve.filter((_, at) => at % 5 === 0);
  return (
    <Figure
      title={`How long lives last by ${wordsOf(effect)}`}
      finding={effectFinding(answer, wordsOf(effect), inUnit)}
      size="wide"
      spec={effectCurve({ ...answer, title, valueTitle: name, level, window: edges })}
      table={{
        columns: [{ title: name }, ...["Times as long as at the middle"].map((one) => ({ title: one, figures: true }))],
        rows: points.map(({ x, lifeRatio, low, high }): Cell[] => [
          inWords(x),
          withLimits({ estimate: lifeRatio, low, high }, ""),
        ]),
        trace: <RowsBehind command={answer.rows} />,
        part: partWords(points.length, curve.length, "point"),
      }}
    >
      All else alike; the band is a pointwise {percentOf(level)} interval, ticks at the foot are the readings.
      {edges !== null && ` Broken lines: the window (${window!.source}).`}
      {answer.form === "flat" && " The test finds no effect: the curve may be level."}
    </Figure>
  );
}

function Ratios({ answer, title }: Pick<EffectProps, "answer" | "title">) {
  const { contrasts, level, matters, effect } = answer;
  if (contrasts.length === 0) return null;
  const rows = contrasts.map(({ contrast, crude, adjusted }) => {
    const [first, second] = sides(contrast);
    return {
      name: `${first} over ${second}`,
      bands: contrast.kind === "levels" ? [first, second] : [],
      crude,
      adjusted,
    };
  });
  return (
    <Figure
      title={`Ratios of lives by ${wordsOf(effect)}, crude and with all else alike`}
      finding={contrastFinding(answer, rows[0]!.name)}
      size="wide"
      spec={crudeAndAdjusted(rows, { title, level, matters })}
      open
      table={{
        columns: [
          { title: "Lives at, over lives at" },
          ...["Nothing held alike", "All else alike", "p"].map((one) => ({ title: one, figures: true })),
          { title: "It says" },
        ],
        rows: contrasts.map(({ crude, adjusted, p, verdict }, at): Cell[] => [
          rows[at]!.name,
          withLimits(crude, ""),
          withLimits(adjusted, ""),
          p === null ? null : p < 0.001 ? "under 0.001" : inWords(p),
          capital(verdict),
        ]),
        trace: <RowsBehind command={answer.rows} />,
      }}
    >
      Open: nothing held alike; filled: all else alike; with {percentOf(level)} limits. Within the grey strip a ratio
      would not matter (under {inWords(matters)} either way).
      {contrasts.length > MOST_CONTRASTS && ` ${MOST_CONTRASTS} of ${contrasts.length} are drawn.`}
    </Figure>
  );
}

/** Fewer lives at risk make steps that say little. */
const FEWEST_AT_RISK = 5;

function Bands({ answer, title }: Pick<EffectProps, "answer" | "title">) {
  const { crude, clock, effect } = answer;
  const { ages } = crude.atRisk;
  const inUnits = unitOfEffect(answer);
  const bands = crude.bands.flatMap(({ by, survival }, at) => {
    const steps = survival.filter(({ atRisk }) => atRisk >= FEWEST_AT_RISK);
    return steps.length === 0 ? [] : [{ name: nameOf(by, inUnits), steps, atRisk: crude.atRisk.bands[at] ?? [] }];
  });
  if (bands.length < 2) return null;
  const unit = unitOf(clock);
  return (
    <Figure
      title={`Still running by age and ${wordsOf(effect)}, nothing held alike`}
      finding={bandsFinding(
        crude.bands.map(({ by, median }) => ({ name: nameOf(by, inUnits), median: median.estimate })),
        unit,
      )}
      size="wide"
      spec={survivalByBand(bands, { title, timeTitle: clockTitle(clock), ages })}
      table={{
        columns: [
          { title: capital(wordsOf(effect)) },
          ...["Lives", "Failed", "10 % failed by (fitted law)", "Half failed by (fitted law)"].map((one) => ({
            title: one,
            figures: true,
          })),
          ...ages.slice(1).map((age) => ({ title: `At risk at ${inWords(age)}${unit}`, figures: true })),
        ],
        rows: crude.bands.map(({ by, basis, l10, median }, at): Cell[] => [
          nameOf(by, inUnits),
          basis.lives,
          basis.failed,
          withLimits(l10, unit),
          withLimits(median, unit),
          ...(crude.atRisk.bands[at] ?? []).slice(1),
        ]),
        trace: <RowsBehind command={answer.rows} />,
      }}
    >
      As they are on record: bands may differ in more than {wordsOf(effect)}. Numbers at risk stand under the axis; a
      curve ends at its last failure with {FEWEST_AT_RISK} or more at risk.
    </Figure>
  );
}

function Compared({ answer, endPlay }: Pick<EffectProps, "answer" | "endPlay">) {
  const { confounding, effect, rows } = answer;
  const [first] = confounding;
  if (first === undefined) return null;
  const unit = unitOfEffect(answer);
  return (
    <DataTable
      caption={`Who was compared with whom: what builds of each ${wordsOf(effect)} were like, as shares or as means`}
      columns={[
        { title: "" },
        ...first.byBand.map(({ band }) => ({ title: bandWords(band, unit), figures: true })),
        { title: "Greatest difference (standard deviations)", figures: true },
      ]}
      rows={confounding.map(({ covariate, level, byBand, difference }): Cell[] => [
        level === null ? meanOf(covariate, endPlay) : `${capital(wordsOf(covariate))} ${wordsOf(level)}`,
        ...byBand.map(({ value }) =>
          value === null ? null : level === null ? inWords(value) : `${Math.round(100 * value)} %`,
        ),
        difference === null ? "nothing in common" : inWords(difference),
      ])}
      trace={<RowsBehind command={rows} />}
    />
  );
}

/** "Mean end play (thou)": it stands among shares. */
function meanOf(covariate: string, endPlay: EndPlay | null): string {
  const unit = covariate === "end_play" && endPlay !== null ? ` (${endPlay.unit})` : "";
  return `Mean ${wordsOf(covariate)}${unit}`;
}

function Settled({ answer: { detectable, adjusted } }: Pick<EffectProps, "answer">) {
  if (detectable.settle.length === 0 || "reason" in adjusted) return null;
  return (
    <DataTable
      caption={`What would settle it, after ${inWords(adjusted.failed)} failures so far`}
      columns={["Ratio of lives", "More failures", "Months at the rate so far"].map((title) => ({
        title,
        figures: true,
      }))}
      rows={detectable.settle.map(({ ratio, failures, months }): Cell[] => [
        inWords(ratio),
        failures,
        months === null ? null : Math.round(months),
      ])}
    />
  );
}

/** The unit of a measured effect; null for one of levels, or without a unit. */
function unitOfEffect({ contrast }: CompareAnswer): string | null {
  return contrast?.kind === "values" ? contrast.unit : null;
}

/** "End play (thou)". */
function headOf(answer: CompareAnswer): string {
  const unit = unitOfEffect(answer);
  return `${capital(wordsOf(answer.effect))}${unit === null ? "" : ` (${unit})`}`;
}

function nameOf(by: By, unit: string | null): string {
  return bandWords(Object.values(by)[0] ?? "", unit);
}

function capital(text: string): string {
  return `${text[0]?.toUpperCase() ?? ""}${text.slice(1)}`;
}
