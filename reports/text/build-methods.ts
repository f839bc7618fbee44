import type { MethodGroup } from "./method-group.ts";

/** Statistics of how frames are built: comparisons, trials, gauges. */
export const BUILD_METHODS: MethodGroup[] = [
  {
    id: "compared",
    title: "What makes lives longer",
    methods: [
      {
        name: "Accelerated lives (Weibull regression)",
        answers: "How many times as long do parts last with this as with that, all else alike?",
        formula:
          "Log life = intercept + sum of coefficients times what is known at the start + scale times the log of a unit exponential, by greatest likelihood, late entry and intervals included; a ratio of lives is the exponential of a contrast of coefficients. What is held alike enters as itself or as 0 and 1 for each level but the most common.",
        source:
          "Lawless, Statistical Models and Methods for Lifetime Data, chapter 6; Meeker & Escobar, Statistical Methods for Reliability Data, chapter 17",
      },
      {
        name: "Proportional hazards",
        answers: "The same without a law of life (--model ph); does the ratio change with age?",
        formula:
          "Cox's partial likelihood, ties after Efron, strata where asked for; a ratio of hazards becomes one of lives by the power of -1 / shape. Change with age: score tests of each covariate times the Kaplan-Meier scale of age.",
        source:
          "Cox 1972, J. R. Statist. Soc. B 34:187-220; Grambsch & Therneau 1994, Biometrika 81:515-526; Therneau & Grambsch, Modeling Survival Data",
      },
      {
        name: "Curve of a measured effect (natural cubic spline)",
        answers: "Where is end play best, and is it a straight line?",
        formula:
          "Cubic between knots at the thirds of the readings, straight beyond the outermost: 3 degrees of freedom. The curve is the ratio of lives to that at the middle of the window, within the readings on record. The best value is where it is highest among all but the outer 2 % of the lives, its limits from 999 curves drawn from the covariance by leaving out units.",
        source: "Harrell, Regression Modeling Strategies, section 2.4; the drawn curves are our own choice, no source",
      },
      {
        name: "Limits and tests with units left out in turn",
        answers: "How sure is the ratio, when lives of one unit are alike?",
        formula:
          "The regression again without each unit (over 200 units in 200 groups by lot); limits by t from the spread of those fits about the estimate less its bias; several coefficients together by Hotelling's statistic. The same with positions, and the wider of both; whether the effect differs with what is held alike is tested by what the ratio's limits came from. Likelihood-ratio tests and sandwich errors stand beside and decide nothing.",
        source:
          "Efron & Tibshirani, An Introduction to the Bootstrap, chapter 11; Lipsitz, Dear & Zhao 1994, Biometrics 50:842-846",
      },
      {
        name: "Longer, shorter, no practical difference, not enough evidence",
        answers: "What can be said, and what would settle it?",
        formula:
          "No practical difference: limits within 1/m to m, m the ratio that would matter. Longer or shorter: limits exclude 1 and p, after Holm over all contrasts, is below one less the level. Else D ((z(0.975) + z(0.80)) e / ln r)^2 - D more failures would show a ratio r in four of five cases, D being the failures so far and e the error of the log ratio.",
        source: "Schoenfeld 1983, Biometrics 39:499-503; Holm 1979, Scand. J. Statist. 6:65-70",
      },
      {
        name: "Who was compared with whom",
        answers: "Did builds of one band also differ otherwise?",
        formula:
          "Mean, or share of each level, by band; the greatest difference between two bands over the standard deviation within them. Over 0.25 is said.",
        source: "the bound: common practice, no source",
      },
      {
        name: "What a gauge's error hides",
        answers: "How much larger is the effect of true end play than that of readings?",
        formula:
          "A straight slope by readings is the true one times (variance - gauge variance) / variance, the variance of the readings being what other columns leave of it.",
        source: "Carroll, Ruppert, Stefanski & Crainiceanu, Measurement Error in Nonlinear Models, chapters 3 and 4",
      },
    ],
  },
  {
    id: "trial",
    title: "A fair trial, and the gauge",
    methods: [
      {
        name: "Failures and builds that a trial takes",
        answers: "How large must it be, and how long does it run?",
        formula:
          "(z(1 - alpha/2) + z(power))^2 / (p (1 - p) (ln ratio of hazards)^2) failures, p the share of one arm, and with several looks as much more as their bounds cost (about 2 % for three); a ratio of lives is that of hazards to the power of -1 / shape. Builds and months follow from the fleet's own lives, removals and rebuilds a month, one arm living as now and the other the ratio longer: until so many failures are to be expected.",
        source: "Schoenfeld 1983, Biometrics 39:499-503",
      },
      {
        name: "Bounds at planned looks",
        answers: "When may a trial be stopped early?",
        formula:
          "Error is spent as 4 - 4 Phi(z(1 - alpha/4) / sqrt(u)), u the share of the planned failures; each bound by recursive numerical integration, so that the whole trial finds nothing where there is nothing but in alpha of cases.",
        source:
          "Lan & DeMets 1983, Biometrika 70:659-663; Jennison & Turnbull, Group Sequential Methods with Applications to Clinical Trials, chapters 7 and 19",
      },
      {
        name: "Assignment in random blocks, and chance by assigning again",
        answers: "How do builds fall to arms, and what would other draws have shown?",
        formula:
          "Within each stratum blocks of mixed sizes hold each arm equally often, in an order by lot that a seed gives again. Under 10 failures at a look the chance of the stratified log-rank statistic is the share of assignments within those blocks, drawn or all, that give as much or more (of drawn ones, one more is counted on either side of the fraction); else that of its chi-square law.",
        source:
          "Matts & Lachin 1988, Controlled Clinical Trials 9:327-344; Rosenberger & Lachin, Randomization in Clinical Trials, chapter 6; Phipson & Smyth 2010, Stat. Appl. Genet. Mol. Biol. 9:39",
      },
      {
        name: "What a gauge adds to readings",
        answers: "How much of the spread of readings is the gauge's?",
        formula:
          "Frames, fitters and repeats crossed: mean squares give the variance of repeats, of fitters and of fitters with frames, together the gauge's, and that between frames; one below 0 is taken as 0, and said. Where fitters and frames are not crossed, the variance of repeats is given alone. Bands told apart: 1.41 times the frames' deviation over the gauge's, rounded down.",
        source:
          "Burdick, Borror & Montgomery 2003, J. Quality Technology 35:342-354; Ting, Burdick, Graybill, Jeyaratnam & Lu 1990, J. Statist. Comput. Simul. 35:135-143, for the limits; bands: common practice",
      },
    ],
  },
];
