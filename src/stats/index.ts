/**
 * Statistics of lives, of events that come back, of trials and measurements, and of the rated life of rolling bearings: plain numerics on
 * typed arrays, with no files, no dates and no state. Ages are in any one unit, and answers in ages are in the same one. What the data don't allow is a value with a
 * `reason`; a `RangeError` says that the call was wrong.
 * @module framelife/stats
 */

// Lives, and families of distributions

export { familyOf } from "./distribution/families.ts";
export type { Curve, Family, FamilyName, Terms } from "./distribution/family.ts";
export type { IntervalLives, Lives } from "./lives.ts";

// Fits of any family, and limits of what follows from them

export { bootstrapInterval } from "./fit/bootstrap-interval.ts";
export { calibratedCutOff } from "./fit/calibrated.ts";
export type { Point } from "./fit/constraint.ts";
export { type ConvergedFit, type Fit, fitSurface } from "./fit/fit.ts";
export { type Jackknife, jackknife, jackknifeInterval } from "./fit/jackknife.ts";
export { type LinePoint, lineLimits } from "./fit/line-limits.ts";
export { nearSurface } from "./fit/near-surface.ts";
export { profileInterval } from "./fit/profile-interval.ts";
export { type Interval, isInfinite, type Quantity, quantityOf } from "./fit/quantity.ts";
export { type Replicate, type Replicates, replicates } from "./fit/replicates.ts";
export type { Slopes } from "./fit/slopes.ts";
export type { Surface } from "./fit/surface.ts";
export { surfaceOf } from "./fit/surface-of.ts";
export { waldInterval } from "./fit/wald-interval.ts";
export { likelihoodCutOff, normalHalfWidth } from "./level.ts";

// The Weibull distribution

export { conditionalSurvival } from "./weibull/conditional-survival.ts";
export { type ConvergedWeibull, fitWeibull, type WeibullFit } from "./weibull/fit.ts";
export { gatherLives } from "./weibull/gather-lives.ts";
export type { GatheredLives } from "./weibull/gathered-lives.ts";
export { weibullMean } from "./weibull/mean.ts";
export { weibullQuantile } from "./weibull/quantile.ts";
export type { Refusal } from "./weibull/refusal.ts";
export { weibullSurvival } from "./weibull/survival.ts";

// Few failures or none, and how well a distribution fits

export { assumedShapeBounds, type BoundLevel, type Bounds, type ScaleQuantity } from "./assumed-shape/bounds.ts";
export { boundsByShape } from "./assumed-shape/bounds-by-shape.ts";
export { type ZeroFailureAim, zeroFailureSampleSize } from "./assumed-shape/zero-failure-sample-size.ts";
export { type AndersonDarling, andersonDarling } from "./goodness/anderson-darling.ts";
export type { Draws } from "./goodness/drawn-distances.ts";
export type { FittedDistribution } from "./goodness/fitted-sample.ts";
export { publishedShapeFactor } from "./small-sample/published-shape-factor.ts";
export { type ShapeBias, type ShapeCorrection, shapeBias } from "./small-sample/shape-bias.ts";

// Curves without a distribution, and tests between groups

export { type CurveOptions, type CurveStep, kaplanMeier } from "./survival/kaplan-meier.ts";
export { type ComparedGroup, type LogRank, logRank } from "./survival/log-rank.ts";
export { type LogRankTrend, logRankTrend } from "./survival/log-rank-trend.ts";
export { type HazardOptions, type HazardStep, nelsonAalen } from "./survival/nelson-aalen.ts";
export { type RestrictedMean, restrictedMean } from "./survival/restricted-mean.ts";
export { curveStart, type RiskRow, riskTable } from "./survival/risk-table.ts";
export type { Groups } from "./survival/strata.ts";
export type { LimitScale } from "./survival/survival-limits.ts";
export { type CurveQuantile, survivalQuantile } from "./survival/survival-quantile.ts";
export { type SurvivalDrop, type Turnbull, turnbull } from "./survival/turnbull.ts";

// Probability paper

export { type AdjustedRank, adjustedRanks } from "./ranks/adjusted-ranks.ts";
export { approximateMedianRank, medianRank } from "./ranks/median-rank.ts";
export { type PaperPoint, paperPoints } from "./ranks/paper-points.ts";
export { type RankRegression, type RegressionDirection, rankRegression } from "./ranks/rank-regression.ts";

// Lives that end by one of several causes

export { aalenJohansen, type IncidenceOptions, type IncidenceStep } from "./competing/aalen-johansen.ts";
export { type CauseIncidence, causeIncidence } from "./competing/cause-incidence.ts";
export type { CauseLives } from "./competing/cause-lives.ts";
export { causeWeibulls } from "./competing/cause-weibulls.ts";
export { type CausesTogether, causesTogether, type NoneTogether } from "./competing/causes-together.ts";
export type { CauseRefusal } from "./competing/fitted-causes.ts";
export { type IncidenceBy, incidenceBy } from "./competing/incidence-by.ts";

// Groups of lives: tests, ratios, pooling

export type { SpreadPriors } from "./groups/best-spreads.ts";
export { type CommonShapeFit, type ConvergedCommonShape, fitCommonShape } from "./groups/common-shape.ts";
export { commonShapeRatio } from "./groups/common-shape-ratio.ts";
export { compareGroups, type GroupComparison, type RatioTest } from "./groups/compare-groups.ts";
export type { Group } from "./groups/gather-groups.ts";
export {
  type PartialPooling,
  type PooledGroup,
  type PooledValue,
  type PoolingOptions,
  type PriorSensitivity,
  partialPooling,
} from "./groups/partial-pooling.ts";
export type { PopulationFigures, Spread } from "./groups/population.ts";
export { type QuantileRatio, quantileRatio, type RatioQuestion } from "./groups/quantile-ratio.ts";
export { benjaminiHochberg } from "./multiple/benjamini-hochberg.ts";
export { holm } from "./multiple/holm.ts";

// Events that come back

export { countLimits } from "./rate/count-limits.ts";
export { type MeanTime, meanTimeBetween } from "./rate/mean-time-between.ts";
export { type CorrectedPowerLaw, correctedPowerLaw } from "./recurrence/corrected-power-law.ts";
export { type MeanCountStep, meanCumulativeFunction } from "./recurrence/mean-count.ts";
export { meanCountAt } from "./recurrence/mean-count-at.ts";
export {
  type MeanCountDifference,
  type MeanCountDifferenceStep,
  meanCountDifference,
} from "./recurrence/mean-count-difference.ts";
export { type ConvergedPowerLaw, fitPowerLaw, type PowerLawFit } from "./recurrence/power-law.ts";
export { type PowerLawGoodness, powerLawGoodness } from "./recurrence/power-law-goodness.ts";
export { type PowerLawRate, powerLawRate } from "./recurrence/power-law-rate.ts";
export type { RecurrentEvents } from "./recurrence/recurrent-events.ts";
export { laplaceTest } from "./recurrence/trend/laplace.ts";
export { type LewisRobinson, lewisRobinsonTest } from "./recurrence/trend/lewis-robinson.ts";
export { type PowerLawTrend, powerLawTrendTest } from "./recurrence/trend/power-law-trend.ts";
export { type ReverseArrangements, reverseArrangementTest } from "./recurrence/trend/reverse-arrangements.ts";
export type { TrendDirection, TrendTest } from "./recurrence/trend/trend-test.ts";
export { type TrendTests, trendTests, trendTestsByUnit } from "./recurrence/trend/trend-tests.ts";
export { compareRepairModels, type RepairComparison } from "./repair/compare-repair-models.ts";
export { type BoundTest, type DegreeOfRepair, degreeOfRepair, type FittedRepair } from "./repair/degree-of-repair.ts";
export type { RepairCounts } from "./repair/gather-gaps.ts";
export type { RepairHistories } from "./repair/repair-histories.ts";
export type { RepairModel } from "./repair/virtual-ages.ts";

// Who comes back more often than chance explains

export type { Cells } from "./offenders/cells.ts";
export type { Counts } from "./offenders/counts.ts";
export {
  type CrossedEffects,
  type CrossedLevel,
  type CrossedSpreads,
  type Effects,
  type FoundCrossedEffects,
  fitCrossedEffects,
} from "./offenders/crossed-effects.ts";
export { type CrossedEffectsAt, crossedEffectsAt, type EffectsAt } from "./offenders/crossed-effects-at.ts";
export type { Dispersion } from "./offenders/dispersion.ts";
export { type ExpectedEvents, expectedEvents, type Stretches } from "./offenders/expected-events.ts";
export { fitGammaPrior, type GammaPrior, type OneRate, type SpreadRates } from "./offenders/gamma-prior.ts";
export type { Ratios } from "./offenders/mixture.ts";
export { compareModes, type ModeComparison } from "./offenders/mode-profile.ts";
export { type OffenderVerdict, type OffenderVerdicts, offenderVerdicts } from "./offenders/offender-verdicts.ts";
export { type PlaceAdjusted, placeAdjusted } from "./offenders/place-adjusted.ts";
export { poissonUpperP } from "./offenders/poisson-upper.ts";
export { fitRenewalLaw, type PoissonClock, type RenewalClock, type RenewalLaw } from "./offenders/renewal-law.ts";
export { renewalUpperP } from "./offenders/renewal-upper.ts";
export { type ShrunkenRates, shrunkenRates } from "./offenders/shrunken-rates.ts";
export { type TwoGroupRatios, twoGroupRatios } from "./offenders/two-group-ratios.ts";
export { type FoundTwoGroups, fitTwoGroups, type TwoGroups } from "./offenders/two-groups.ts";
export { type Blame, type EffectRatio, type UnitOrPosition, unitOrPosition } from "./offenders/unit-or-position.ts";

// A fair trial: its size, its assignments, its looks

export type { Aim } from "./trial/aim.ts";
export type { Compared } from "./trial/compared.ts";
export { type BoundedLooks, type CrossingChances, crossingChances } from "./trial/crossing-chances.ts";
export { detectableRatio } from "./trial/detectable-ratio.ts";
export { earlyStoppingConstant } from "./trial/early-stopping-constant.ts";
export { expectedFailures, type TrialArm, type TrialPlan } from "./trial/expected-failures.ts";
export { type Following, failureChance } from "./trial/failure-chance.ts";
export { failuresNeeded } from "./trial/failures-needed.ts";
export { failuresToSettle, type SoFar } from "./trial/failures-to-settle.ts";
export { hazardRatioOf, lifeRatioOf } from "./trial/life-ratio.ts";
export { type MonthsForFailures, monthsForFailures } from "./trial/months-for-failures.ts";
export { type Assignments, type BlockDesign, permutedBlocks } from "./trial/permuted-blocks.ts";
export { powerOfFailures } from "./trial/power-of-failures.ts";
export {
  type Assigned,
  type ReRandomisation,
  type ReRandomised,
  reRandomisedLogRank,
} from "./trial/re-randomisation.ts";
export { type Spending, type SpendingBounds, type SpendingLook, spendingBounds } from "./trial/spending-bounds.ts";
export { type TrialDuration, trialDuration } from "./trial/trial-duration.ts";
export { trialInflation } from "./trial/trial-inflation.ts";
export { type TrialSize, type TwoGroupTrial, unitsNeeded } from "./trial/units-needed.ts";
export type { Whole } from "./trial/whole.ts";

// A gauge study, and what a gauge's error does to a slope

export { type Corrected, correctedSlope, type GaugeError, type Slope } from "./gauge/attenuation.ts";
export type { VarianceLimits } from "./gauge/gauge-limits.ts";
export { type GaugeDesign, type GaugeOrder, gaugeOrder } from "./gauge/gauge-order.ts";
export type { GaugeCell, GaugeReadings } from "./gauge/gauge-readings.ts";
export {
  type FoundGaugeStudy,
  type GaugeComponent,
  type GaugeComponents,
  type GaugeOptions,
  type GaugeStudy,
  gaugeStudy,
} from "./gauge/gauge-study.ts";
export { leftVariance } from "./gauge/left-variance.ts";
export type { MeanSquare, MeanSquares } from "./gauge/mean-squares.ts";
export { type RepeatSpread, repeatSpread } from "./gauge/repeat-spread.ts";
export { type StrayReading, strayReading } from "./gauge/stray-reading.ts";

// Measurements at the bench

export { type BetweenGroups, betweenGroups, type FoundBetweenGroups } from "./measurements/between-groups.ts";
export { type ChartLimits, type IndividualsChart, individualsChart } from "./measurements/individuals-chart.ts";
export { type LikeOptions, type LikeReadings, likeReadings } from "./measurements/like-readings.ts";
export { type RuleBreak, type RunRule, runRules } from "./measurements/run-rules.ts";
export { type ShareInterval, shareInterval } from "./measurements/share-interval.ts";

// Rated life of rolling bearings

export { angularContactFactors, type ContactAngle, type Mounting } from "./rating/angular-contact-factors.ts";
export { basicRatingLife } from "./rating/basic-rating-life.ts";
export { type Cleanliness, contaminationFactor } from "./rating/contamination-factor.ts";
export { type DutyStep, dutyCycle } from "./rating/duty-cycle.ts";
export {
  type BearingLoads,
  equivalentLoad,
  type LoadFactors,
  type SteppedLoadFactors,
} from "./rating/equivalent-load.ts";
export { greaseIntervalFactor } from "./rating/grease-interval-factor.ts";
export { hoursOfRevolutions } from "./rating/hours-of-revolutions.ts";
export {
  type LifeModification,
  lifeModificationFactor,
  type RatedBearing,
  type RunningConditions,
} from "./rating/life-modification-factor.ts";
export { modifiedRatingLife } from "./rating/modified-rating-life.ts";
export { neededLoadRating } from "./rating/needed-load-rating.ts";
export { pairLoadRating } from "./rating/pair-load-rating.ts";
export { referenceViscosity } from "./rating/reference-viscosity.ts";
export { type ReliabilityFactor, reliabilityFactor } from "./rating/reliability-factor.ts";
export { type ReliabilityTable, reliabilityFormula } from "./rating/reliability-formula.ts";
export { LIFE_EXPONENT, LIFE_SLOPE, type RollingElement } from "./rating/rolling-element.ts";
export { systemLife } from "./rating/system-life.ts";
export { viscosityRatio } from "./rating/viscosity-ratio.ts";

// Regression of life on what is known when it starts: accelerated life

export {
  type AcceleratedLife,
  type ConvergedAcceleratedLife,
  fitAcceleratedLife,
} from "./regression/accelerated-life.ts";
export type { ClusterRefits } from "./regression/cluster-refits.ts";
export type { Contrast } from "./regression/contrast.ts";
export type { Covariate } from "./regression/covariates.ts";
export { type JackknifeContrast, jackknifeContrast } from "./regression/jackknife-contrast.ts";
export { jackknifeCovariance } from "./regression/jackknife-covariance.ts";
export { type JackknifeTest, jackknifeTest } from "./regression/jackknife-test.ts";
export type { AcceleratedFamily } from "./regression/life-model.ts";
export { lifeRatio } from "./regression/life-ratio.ts";
export {
  type FittedModel,
  type LikelihoodRatioTest,
  likelihoodRatioTest,
} from "./regression/likelihood-ratio-test.ts";
export {
  type NaturalSpline,
  naturalSpline,
  type SplineShape,
  splineColumns,
} from "./regression/natural-spline.ts";
export { type LifeQuestion, predictedLife } from "./regression/predicted-life.ts";
export { refitWithoutClusters } from "./regression/refit-without-clusters.ts";
export { sandwichCovariance } from "./regression/sandwich-covariance.ts";
export { scoreResiduals } from "./regression/score-residuals.ts";
export { waldContrast } from "./regression/wald-contrast.ts";

// Regression of life on what is known when it starts: proportional hazards

export type { AgeScale } from "./regression/age-scale.ts";
export { baselineHazard, type HazardCurve } from "./regression/baseline-hazard.ts";
export type { ChiSquareTest } from "./regression/chi-square-test.ts";
export { type Concordance, hazardConcordance } from "./regression/hazard-concordance.ts";
export type { HazardFitOptions, HazardModel } from "./regression/hazard-model.ts";
export { type HazardResiduals, hazardResiduals } from "./regression/hazard-residuals.ts";
export { hazardsWithoutClusters } from "./regression/hazards-without-clusters.ts";
export {
  type ConvergedHazards,
  fitProportionalHazards,
  type HazardFit,
  type NoHazards,
} from "./regression/proportional-hazards.ts";
export { type Proportionality, proportionality } from "./regression/proportionality.ts";
export type { PairCounts } from "./regression/risk-pairs.ts";
export { type RobustHazards, robustHazards } from "./regression/robust-hazards.ts";
export { type SchoenfeldResiduals, schoenfeldResiduals } from "./regression/schoenfeld-residuals.ts";

// Counts of pieces, and the stock to hold

export { type CountMoments, countMoments } from "./spares/count-moments.ts";
export { countQuantile } from "./spares/count-quantile.ts";
export { countsInLots } from "./spares/counts-in-lots.ts";
export { countsOfDraws } from "./spares/counts-of-draws.ts";
export { mixedCounts } from "./spares/mixed-counts.ts";
export { negativeBinomialCounts } from "./spares/negative-binomial-counts.ts";
export { poissonCounts } from "./spares/poisson-counts.ts";
export { type PooledStock, pooledStock } from "./spares/pooled-stock.ts";
export { type ExchangePool, readyUnitsNeeded } from "./spares/ready-units-needed.ts";
export { type StockCurve, stockCurve } from "./spares/stock-curve.ts";
export { type StockFigures, stockFigures } from "./spares/stock-figures.ts";
export { sumOfCounts } from "./spares/sum-of-counts.ts";
export { thinnedCounts } from "./spares/thinned-counts.ts";
export { trialCounts } from "./spares/trial-counts.ts";

// Forecasts of use from past use alone, and how forecasts did

export { countTransform } from "./spares/count-transform.ts";
export { type IntermittentDemand, intermittentDemand } from "./spares/intermittent-demand.ts";
export { intermittentForecast } from "./spares/intermittent-forecast.ts";
export { lastUseForecast } from "./spares/last-use-forecast.ts";
export { meanRateForecast, type PastUse } from "./spares/mean-rate-forecast.ts";
export { pinballLoss } from "./spares/pinball-loss.ts";
export {
  type ForecastCase,
  type ForecastQuestion,
  type ForecastScores,
  scoreForecasts,
} from "./spares/score-forecasts.ts";
export { type UseDispersion, useDispersion } from "./spares/use-dispersion.ts";
export { type UseForecast, useForecast } from "./spares/use-forecast.ts";

// Openings of units, lives already begun, and planned replacement

export { conditionalFailure } from "./spares/conditional-failure.ts";
export { costRate } from "./spares/cost-rate.ts";
export { type DemandWindow, drawnDemand } from "./spares/drawn-demand.ts";
export { firstSurvival } from "./spares/first-survival.ts";
export { joinOpenings } from "./spares/join-openings.ts";
export type { OpeningFleet, SlotLaws } from "./spares/opening-fleet.ts";
export { type RenewalTable, renewalTable } from "./spares/renewal-table.ts";
export { replacementAge } from "./spares/replacement-age.ts";
export { replacementAgeOnGrid, type SurvivalGrid } from "./spares/replacement-age-on-grid.ts";
export type { NoReplacementAge, ReplacementAge, ReplacementCosts } from "./spares/replacement-costs.ts";
export { type ReplacementSaving, replacementSaving } from "./spares/replacement-saving.ts";
export { residualMean } from "./spares/residual-mean.ts";
export { residualQuantile } from "./spares/residual-quantile.ts";
export { type Openings, type OpeningsAhead, simulateOpenings } from "./spares/simulate-openings.ts";
export type { Survival, WeibullLife } from "./spares/survival.ts";
export { type DrawnWeibulls, type WeibullDraws, weibullDraws } from "./spares/weibull-draws.ts";
export { type WeibullPrior, weibullPosterior } from "./spares/weibull-posterior.ts";
