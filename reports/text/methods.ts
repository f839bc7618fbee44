import { BENCH_METHODS } from "./bench-methods.ts";
import { BUILD_METHODS } from "./build-methods.ts";
import type { MethodGroup } from "./method-group.ts";
import { SPARES_METHODS } from "./spares-methods.ts";

const LIKELIHOOD =
  "Meeker, Escobar & Pascual, Statistical Methods for Reliability Data, 2nd edition; Lawless, Statistical Models and Methods for Lifetime Data, 2nd edition; IEC 61649 (Weibull analysis)";

/** Every statistic on the pages, in the order in which they build on each other. */
export const METHODS: MethodGroup[] = [
  {
    id: "lives",
    title: "Lives and how they are counted",
    methods: [
      {
        name: "A life, and how it ended",
        answers: "What is counted, and what as a failure?",
        formula:
          "A life runs from the fitting of a part in one slot of one unit to its removal, or to the end of follow-up. It counts as failed only where the cards give evidence for that slot; a part taken out unfailed is suspended, one not yet taken out is running. Both count as having lasted at least so long.",
        source: "ISO 14224 (failure and maintenance data), for the words; the rule is common practice, no source",
      },
      {
        name: "Hours of a life",
        answers: "What did the meter stand at where no card or round shows it?",
        formula:
          "Between two readings in proportion to days in service, none on the bench; after the last reading at the unit's own rate of its last year, by days in service too. Across a meter that was changed unread, went back, stood still for over 60 days or ran more than 24 hours a day there are no hours, and such a life is left out of answers in hours.",
        source: "common practice, no source",
      },
      {
        name: "Number at risk",
        answers: "How many lives does the curve rest on at an age?",
        formula:
          "Lives that had come under observation before that age and had not ended before it. A life first seen at an age above 0 joins at that age, so the number can rise. Failures come before removals at equal ages.",
        source: "Klein & Moeschberger, Survival Analysis, chapters 3 and 4",
      },
      {
        name: "Answers both ways",
        answers: "What hangs on endings that nobody wrote down?",
        formula:
          "The figures are made twice: parts replaced without a word on their condition as unfailed and then all as failed; frames that nothing shows to be running as followed to the last day and then as stopped when last seen.",
        source: "common practice, no source",
      },
    ],
  },
  {
    id: "curves",
    title: "Life without a law",
    methods: [
      {
        name: "Share still running (Kaplan-Meier)",
        answers: "What share of parts is unfailed at an age, whatever law they follow?",
        formula:
          "The product, over all ages with failures up to then, of 1 less the failures divided by the number at risk. Limits: Greenwood's standard error, on the scale of log(-log), point by point. With late entry the curve starts where at least 5 are at risk.",
        source:
          "Kaplan & Meier 1958, Journal of the American Statistical Association 53:457-481; Klein & Moeschberger, Survival Analysis, chapter 4",
      },
      {
        name: "Points on Weibull paper",
        answers: "Where does each failure belong on the paper?",
        formula:
          "Each failure has a rank, raised for lives that were removed before it (Johnson); its height is the exact median of the share failed at that rank, a quantile of the beta distribution. With late entry: the middle of each fall of the survival curve.",
        source:
          "IEC 61649; Johnson, The Statistical Treatment of Fatigue Experiments; Meeker & Escobar, Statistical Methods for Reliability Data, chapter 6",
      },
      {
        name: "Share of lives ended by a damage mode (cumulative incidence, Aalen-Johansen)",
        answers: "What share of parts has this mode ended by an age, the other modes being what they are?",
        formula:
          "The sum, over all ages with failures of the mode, of the share still running just before (no failure of any mode) times the mode's failures divided by the number at risk. The modes' shares add up to the share failed.",
        source:
          "Aalen & Johansen 1978, Scandinavian Journal of Statistics 5:141-150; Klein & Moeschberger, Survival Analysis, section 4.7; modes by ISO 15243",
      },
    ],
  },
  {
    id: "law",
    title: "A law of life",
    methods: [
      {
        name: "Weibull law, by maximum likelihood",
        answers: "Which law describes the lives best?",
        formula:
          "Share unfailed at age t: exp(-(t / scale)^shape). Scale and shape are those that make what was seen most likely: a failure counts by the density at its age, an unfailed life by the share unfailed, one known by an interval by the share failed in it, each given that it was unfailed when first seen.",
        source: LIKELIHOOD,
      },
      {
        name: "L10, median and other ages by share failed",
        answers: "By which age have one in ten, half, ... failed?",
        formula:
          "Under the Weibull law: scale times (-log(1 - p))^(1 / shape), for the share failed p; L10 has p = 0.1.",
        source: "ISO 281, for the word L10; Meeker & Escobar, Statistical Methods for Reliability Data, chapter 4",
      },
      {
        name: "How failures go with age",
        answers: "Do old parts fail more readily than young ones?",
        formula:
          "The rate of failure under a Weibull law goes as t^(shape - 1). Rising is said where the whole interval of the shape lies above 1, falling where it lies below, about constant where it lies within 0.8 to 1.25; else it can't be told.",
        source: "IEC 61649, for the shape; the range of “about constant” is our own choice, no source",
      },
      {
        name: "Share unfailed at an age asked for",
        answers: "How many of the parts fitted today will reach a given age?",
        formula: "The share unfailed under the fitted law at that age, with limits as for every other figure.",
        source: "Meeker & Escobar, Statistical Methods for Reliability Data, chapter 8",
      },
      {
        name: "Chance to run on",
        answers: "Of what runs now, what will most likely not last?",
        formula: "The share unfailed at the age then, divided by the share unfailed at the age now.",
        source: "Nelson, Applied Life Data Analysis, chapter 2",
      },
      {
        name: "Life under one damage mode alone",
        answers: "How long would parts last were this the only mode?",
        formula:
          "A Weibull fit in which lives that another mode ended count as removed unfailed at that age. It takes the modes to be independent. Check: the product of the modes' survivals against the survival curve of all failures.",
        source:
          "Nelson, Applied Life Data Analysis, chapter 5; Lawless, Statistical Models and Methods for Lifetime Data, chapter 9",
      },
      {
        name: "Life with the shape assumed",
        answers: "What can be said with few failures, or none?",
        formula:
          "With T the sum of t^shape over all lives and r failures: scale = (T / r)^(1 / shape), its lower bound from the chi-square distribution with 2r + 2 degrees, its upper with 2r. Without failures the lower bound alone exists. It is shown for several shapes, for it is no surer than the shape.",
        source: "Nelson 1985, Journal of Quality Technology 17:140-146",
      },
    ],
  },
  {
    id: "limits",
    title: "Limits",
    methods: [
      {
        name: "By likelihood (profile)",
        answers: "Which values of a figure agree with the records?",
        formula:
          "All values for which the greatest likelihood, over whatever else the law leaves open, falls short of the maximum by no more than half a chi-square quantile with 1 degree.",
        source: "Meeker & Escobar, Statistical Methods for Reliability Data, chapter 8",
      },
      {
        name: "By likelihood, with a cut-off found by drawing (calibrated)",
        answers: "The same with few failures, where the chi-square quantile is too small.",
        formula:
          "Sets of lives are drawn from the fitted law, with the censoring of the records repeated; the cut-off is the quantile of twice the log-likelihood ratio over the fits of the drawn sets.",
        source: "Davison & Hinkley, Bootstrap Methods and their Application, chapter 5",
      },
      {
        name: "By leaving out units in turn (clustered)",
        answers: "The same where one unit gives several lives and units differ.",
        formula:
          "The figure is made anew without each unit; from the spread of these figures comes a standard error, and limits by Student's t with one degree less than there are units. Over 200 units are put together at random in 200 groups. Positions are left out in turn too, and the wider limits are taken.",
        source:
          "Efron & Tibshirani, An Introduction to the Bootstrap, chapter 11; Lipsitz, Dear & Zhao 1994, Biometrics 50:842-846",
      },
      {
        name: "By the normal law, and from drawn sets (Wald, bootstrap)",
        answers: "Limits where they are asked for in this form, or the likelihood gives none.",
        formula:
          "Wald: estimate plus and minus a normal quantile times its standard error, on the log scale. Bootstrap: quantiles of the figure over fits of sets of lives drawn from the fitted law.",
        source: LIKELIHOOD,
      },
    ],
  },
  {
    id: "fit",
    title: "How well the law fits",
    methods: [
      {
        name: "Distance from the law (Anderson-Darling)",
        answers: "Do the lives look as if they came from the law?",
        formula:
          "The squared distance between the shares seen and the shares under the law, weighted most at both ends. The chance is the share of drawn sets of lives, each fitted anew, that lie at least as far off.",
        source: "D'Agostino & Stephens, Goodness-of-Fit Techniques, chapter 4",
      },
      {
        name: "Lines through the points on paper",
        answers: "What would a ruler on the paper give?",
        formula:
          "Least squares through the plotted points, once with ages fitted to positions and once the other way round, with r squared. For comparison alone: the answer is by likelihood.",
        source: "IEC 61649",
      },
      {
        name: "Other laws",
        answers: "Does another law describe the lives better?",
        formula:
          "Akaike's criterion with its small-sample term: 2k - 2 log-likelihood + 2k(k + 1) / (n - k - 1). Another law is called clearly better from 20 failures on and by more than 4.",
        source:
          "Burnham & Anderson, Model Selection and Multimodel Inference, 2nd edition; the bounds 20 and 4 are our own choice, no source",
      },
      {
        name: "Shape less its bias in small samples",
        answers: "By how much does a shape from few failures come out too high?",
        formula:
          "Sets of lives are drawn from the fitted law, with the censoring of the records repeated, and fitted anew; the fitted shape is divided by the factor by which theirs come out too high. Shown under 20 failures, beside the fitted shape; limits stay those of the fit.",
        source: "Thoman, Bain & Antle 1969, Technometrics 11:445-460",
      },
    ],
  },
  {
    id: "groups",
    title: "Between fleets",
    methods: [
      {
        name: "One shape, one law (likelihood-ratio tests)",
        answers: "Do fleets differ by more than chance?",
        formula:
          "Twice the difference of the log-likelihoods of separate fits and of fits with one shape (k - 1 degrees) or one law for all k fleets (2k - 2 degrees), against the chi-square distribution.",
        source: "Lawless, Statistical Models and Methods for Lifetime Data, chapter 5",
      },
      {
        name: "Log-rank test",
        answers: "The same without a law.",
        formula:
          "At every age with failures, those of each fleet less their share of the fleets' numbers at risk; the sums over all ages, against their variance, have a chi-square distribution with k - 1 degrees.",
        source: "Klein & Moeschberger, Survival Analysis, chapter 7",
      },
      {
        name: "Ratio of L10",
        answers: "How many times as long do parts last in one fleet as in another?",
        formula:
          "L10 of a fleet over that of the fleet with most failures. Limits from those of the two: on the log scale the distances from estimate to limit are added as squares, each on its own side.",
        source: "Zou & Donner 2008, Statistics in Medicine 27:1693-1702",
      },
      {
        name: "Borrowing from the other fleets (partial pooling)",
        answers: "What is the life of a fleet with few failures, given what the others show?",
        formula:
          "Log scale and log shape of the fleets are taken as drawn from one normal distribution each, whose middles and spreads come from all fleets together; with under 6 fleets the spreads rest on half-normal priors, which the page states. A fleet with few failures moves most, and the table says how far. Limits are those between which the value lies with the stated probability, given all fleets.",
        source:
          "Gelman 2006, Bayesian Analysis 1:515-534, for priors of spreads; the priors themselves (0.5 on log life, 0.3 on log shape) are our own choice, no source",
      },
    ],
  },
  {
    id: "catalogue",
    title: "Against the catalogue",
    methods: [
      {
        name: "Basic rating life (L10h)",
        answers: "How long should nine in ten bearings last before they fail by fatigue?",
        formula:
          "1,000,000 / (60 n) times (C / P)^p hours: n in revolutions a minute, C the dynamic load rating, P the equivalent load, p = 3 for balls and 10/3 for rollers. A matched pair counts with 2^0.7 (balls) or 2^(7/9) (rollers) times the rating of one.",
        source: "ISO 281:2007",
      },
      {
        name: "Modified rating life (L10mh)",
        answers: "The same for the oil's viscosity and the dirt in it.",
        formula:
          "Basic rating life times a1 (reliability) and aISO (from the viscosity ratio, the contamination and the fatigue load limit).",
        source: "ISO 281:2007",
      },
      {
        name: "Seen over rated",
        answers: "Do parts here last as long as the catalogue says?",
        formula:
          "L10 seen divided by the modified rating life, or the basic one where there is none, with the limits of L10. Catalogue life covers fatigue alone; L10 seen counts every failure.",
        source: "ISO 281:2007, for the rating life",
      },
    ],
  },
  {
    id: "rebuilds",
    title: "Rebuilds",
    methods: [
      {
        name: "Mean time between rebuilds",
        answers: "How long does a unit run, on average, until it comes back?",
        formula:
          "Running time watched divided by rebuilds, planned ones and failures apart. Limits: twice the exposure divided by chi-square quantiles with 2r + 2 and 2r degrees, for r rebuilds.",
        source: "NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1",
      },
      {
        name: "Mean number of rebuilds a unit (mean cumulative function)",
        answers: "Do units come back more often as they grow older?",
        formula:
          "The sum, over all ages with rebuilds, of rebuilds divided by units under observation. Limits on the log scale from a standard error that leaves each unit its own habits.",
        source: "Nelson, Recurrent Events Data Analysis; Lawless & Nadeau 1995, Technometrics 37:158-168",
      },
      {
        name: "Difference of two mean numbers",
        answers: "Do units of one group come back more often than those of another?",
        formula:
          "The one mean cumulative function less the other, over ages at which units of both were under observation. Limits by the normal law, from the root of the sum of the two squared standard errors, age by age. It takes the groups to share no unit; with few units in a group the limits are too narrow.",
        source: "Lawless & Nadeau 1995, Technometrics 37:158-168; Nelson, Recurrent Events Data Analysis, chapter 7",
      },
      {
        name: "Trend at a constant rate (Laplace, power-law test)",
        answers: "Do rebuilds come closer together as units age, or further apart?",
        formula:
          "Laplace: ages at rebuilds less the middle of their unit's observation, added up, over their standard deviation were they spread evenly. Power-law test: twice the sum of log(observation / age since its start), a chi-square with 2 degrees a rebuild. A rebuild that ended the observation is its end and is not counted. Without trend every unit has a constant rate of its own; times between rebuilds that are steadier than that, as of units that all start new, can pass for a trend.",
        source:
          "Cox & Lewis, The Statistical Analysis of Series of Events, chapter 3; MIL-HDBK-189 (from memory); NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.3.4",
      },
      {
        name: "Trend in the order of times between rebuilds (Lewis-Robinson, reverse arrangements)",
        answers: "The same where times between rebuilds follow any law.",
        formula:
          "Without trend the whole times between rebuilds of a unit come in no order. Lewis-Robinson: their sum, weighted by how early they come, less its mean, over its standard deviation over all orders; for one unit Laplace's statistic over the coefficient of variation, but for a factor sqrt(n / (n + 1)). Reverse arrangements: pairs of which the later is longer, against all orders counted out (up to 500 pairs) or the normal law. Units with one whole time between rebuilds say nothing; with few the tests see strong trends alone.",
        source:
          "Lewis & Robinson 1974 (from memory), the standard deviation over orders by hand; Mann 1945, Econometrica 13:245-259; Kendall, Rank Correlation Methods, for ties",
      },
      {
        name: "Power-law process",
        answers: "By which power of age do rebuilds become more or less frequent, and how frequent are they now?",
        formula:
          "Rebuilds of a unit come at the rate lambda beta t^(beta - 1) at age t, whatever came before. Beta and lambda make what was seen most likely, each unit counting from its entry to its end; limits of beta by likelihood, of the rate by the normal law on the log scale. Twice the log-likelihood ratio against beta = 1 tests a constant rate. For one unit watched from new, beta is also given less its bias: (N - 1) / sum of log(end / age), N - 2 where a rebuild ended observation. It takes a rebuild to leave a unit as it was before and all units to be alike: where units differ, limits are too narrow.",
        source:
          "IEC 61710; Crow 1974, Reliability Analysis for Complex, Repairable Systems; both from memory; NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.2",
      },
      {
        name: "Distance from the power law (Cramer-von Mises)",
        answers: "Do rebuilds look as if they came at powers of age?",
        formula:
          "With i the order of age / end of observation among M rebuilds: 1 / (12 M) and the sum of the squares of (age / end)^beta - (2i - 1) / (2M). The chance is the share of drawn sets of rebuilds, each fitted anew, that lie at least as far off. Units that entered late, and rebuilds that ended observation, are left out; a small chance speaks against the law, a large one does not prove it.",
        source: "MIL-HDBK-189 and IEC 61710, both from memory",
      },
      {
        name: "Degree of repair (virtual age)",
        answers: "Is a rebuilt frame as good as new (0), as before (1), or between?",
        formula:
          "After a rebuild at age t a frame runs on like one of virtual age v under a Weibull law: v = q t (model I), or v = q times all that had gathered up to the rebuild (model II). Shape, scale and q within 0 to 1 are those that make the times between rebuilds most likely, each a life that had come to its virtual age; limits by likelihood. Tests of q = 0 and q = 1: twice the log-likelihood ratio, half 0 and half chi-square with 1 degree. Rebuilds of a frame at one age count as one. Under 30 rebuilds it is a reading of the records, not a finding.",
        source:
          "Kijima 1989, Journal of Applied Probability 26:89-102; Self & Liang 1987, Journal of the American Statistical Association 82:605-610, for tests at a bound; the bound 30 is our own choice, no source",
      },
    ],
  },
  {
    id: "offenders",
    title: "Repeat offenders",
    methods: [
      {
        name: "Expected events, by age",
        answers: "How many rebuilds would an entity have had, had it been like all others?",
        formula:
          "The sum, over its stretches between rebuilds, of the cumulative hazard of age since rebuild that all other entities of its model show: at each age with events, those of the others divided by the number of others at risk. So nothing is bad for being old, and a position has a meaning. Where frames moved, and some places (of a frame) or frames (of a position) clearly come back more often than others, what each does elsewhere, drawn towards 1, is put in too.",
        source:
          "Klein & Moeschberger, Survival Analysis, chapters 4 and 7; Andersen, Borgan, Gill & Keiding, Statistical Models Based on Counting Processes, chapter 4",
      },
      {
        name: "Ordinary or offender (two groups)",
        answers: "How sure is it that an entity is not merely unlucky?",
        formula:
          "Events are Poisson about a ratio times the expected ones. Ratios of ordinary entities are gamma, their spread fitted together with that of a second, wide group (gamma of shape 6, at least twice the ordinary mean); the greatest marginal likelihood gives spread, share and means. From them follow the probability that an entity is ordinary (local false discovery rate), and its ratio drawn towards 1 by as much as its record is short.",
        source:
          "Efron, Large-Scale Inference, chapters 2 and 5; the shape 6 and the bound of twice are our own choice, no source",
      },
      {
        name: "Offender, watch, within chance",
        answers: "Which names can be trusted?",
        formula:
          "Offenders: the longest list, most certain first, whose mean probability of being ordinary is at most 0.08, provided that twice the log-likelihood gained by two groups over one gamma is 6 or more. Watch: probability up to 0.35. All else is within chance. The sum of the probabilities on the list is the number of false names to expect.",
        source: "Efron, Large-Scale Inference, chapter 5; the bounds are our own choice, held by simulation",
      },
      {
        name: "Rates drawn together (gamma-Poisson)",
        answers: "What is the rate of an entity with few events?",
        formula:
          "Rates over entities are gamma, by greatest marginal likelihood; given r events in exposure t a rate is gamma with shape + r and rate parameter + t.",
        source: "Morris 1983, J. Amer. Statist. Assoc. 78:47-65; Gaver & O'Muircheartaigh 1987, Technometrics 29:1-15",
      },
      {
        name: "Chance of so many events or more",
        answers: "How often would an ordinary entity have as many?",
        formula:
          "Poisson's upper tail at the expected events times the ordinary mean; where the limits of the shape of the gaps between events exclude 1, the upper tail of a renewal process with Weibull gaps over the entity's own stretches, by numerical convolution. Adjusted over all entities by Benjamini and Hochberg.",
        source: "Cox, Renewal Theory, chapter 3; Benjamini & Hochberg 1995, J. R. Statist. Soc. B 57:289-300",
      },
      {
        name: "Chance limits of the funnel",
        answers: "How far from 1 may failures over expected lie by chance alone?",
        formula:
          "For each whole count the expected number at which so many failures or more, or so few or fewer, have just the chance of 2.5 % (or 0.1 %): halves of chi-square quantiles. The curves join these points, so a mark lies outside them exactly where its count does. They take no account of how ordinary ones differ by themselves; the verdicts do.",
        source:
          "Garwood 1936, Biometrika 28:437-442; Spiegelhalter 2005, Statistics in Medicine 24:1185-1202, for funnels",
      },
      {
        name: "The place or the frame",
        answers: "Is it the position that is bad, or the unit?",
        formula:
          "Events of each unit at each position are Poisson about expected events times exp(level + unit's effect + position's effect), effects normal, their spreads by greatest likelihood with Laplace's approximation; from over 2,000 pairs of unit and position, by the totals of either, what the other does put in. The pair that is asked about was picked for what happened there, so its own unit and position are given a spread of 1 at least, and only the some 500 pairs around it are taken. A word is given only where units moved and the two effects' posterior correlation is above -0.9: to blame is what is above 0 with probability 0.95, and, if both are, the larger where that has probability 0.95.",
        source:
          "Breslow & Clayton 1993, J. Amer. Statist. Assoc. 88:9-25; the bounds, the spread of 1 and the pairs around are our own choice, no source",
      },
      {
        name: "Modes of damage against the fleet's (exact test)",
        answers: "Does an offender fail otherwise than the rest?",
        formula:
          "The chance, with the totals of modes and of both rows as they are, of tables as unlikely as the one seen or more so; from tables drawn with a fixed seed where there are over 200,000.",
        source: "Freeman & Halton 1951, Biometrika 38:141-149",
      },
    ],
  },
  ...BUILD_METHODS,
  ...BENCH_METHODS,
  ...SPARES_METHODS,
];
