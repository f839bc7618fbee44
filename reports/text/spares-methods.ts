import type { MethodGroup } from "./method-group.ts";

/** Statistics of what will be used, what to hold and when to rebuild. */
export const SPARES_METHODS: MethodGroup[] = [
  {
    id: "spares",
    title: "Spares",
    methods: [
      {
        name: "Use to come, by running the fleet on",
        answers: "How many pieces of each part will be used, month by month?",
        formula:
          "Each frame in service runs on from the present ages of its slots, at its own running rate. It opens at the first failure of a slot, or for another reason as often as that was seen; the slots of its kit start anew, others with the chance seen for them. Each opening takes the parts of the frame, each renewed slot those of its kit. The mean and the ranges are those of the futures drawn. Adding slots up by themselves would count one opening several times.",
        source:
          "Cox, Renewal Theory, chapters 2 and 3; Meeker & Escobar, Statistical Methods for Reliability Data, chapter 12 (prediction of future failures)",
      },
      {
        name: "What the fit leaves open",
        answers: "Do the ranges know that the laws are only known as well as the lives tell them?",
        formula:
          "Each future draws the law of each slot of each fleet anew: log scale and log shape from the normal law about the fit with its covariance, below 200 failures together with what is usual (shape about 1.5, 95 in 100 between 0.56 and 4; half a failure where none was seen). A fleet's own lives count from five failures on; below that those of all fleets. The 80 % and 95 % ranges are of the pieces used, not of their mean, and in whole pieces: they hold at least what they say.",
        source:
          "Meeker & Escobar, Statistical Methods for Reliability Data, chapters 8, 9 and 12; Hamada, Wilson, Reese & Martz, Bayesian Reliability, chapter 4; what is usual: common practice, no source",
      },
      {
        name: "Stock that keeps a chance of no shortage",
        answers: "How much must be held, and what is the stock at hand good for?",
        formula:
          "Use over lead time and review, in each future its own lead time (from the triangle of shortest, usual and longest where these are known). Hold: the least stock that use does not pass in the share of futures asked for. The risk of a stock is the share of futures that pass it; exact counts, never a normal curve. The share of demand met from the shelf and the chance that a piece is there when asked for are other figures of the same stock, and differ.",
        source:
          "Sherbrooke, Optimal Inventory Modeling of Systems, chapter 2; Feller, An Introduction to Probability Theory and Its Applications, volume 1, chapters 6 and 9",
      },
      {
        name: "When to order, and how much",
        answers: "What must go out now?",
        formula:
          "What is on hand, and on order to arrive within the lead time, below what to hold: order the difference now, in whole packs and no less than the smallest order. Else the last day from which the longest lead time still ends before the chance of no shortage falls below that asked for.",
        source: "arithmetic on the futures drawn; the rule is common practice, no source",
      },
      {
        name: "Past use beside, and one that is hardly used",
        answers: "Do the cards of the last years say the same? Must one be held at all?",
        formula:
          "Past use alone: pieces of up to 36 months at their mean rate, negative binomial, wider where months scatter more than chance. Two forecasts disagree where each mean lies outside the range of the other. Used once a year or less: a year without one costs uses a year times lead time times the cost of a day; holding one costs its price times the holding rate.",
        source:
          "Lawless & Fredette 2005, Biometrika 92:529-542; McCullagh & Nelder, Generalized Linear Models, chapter 6; the rule of disagreement: our own choice, no source",
      },
      {
        name: "Frames ready to exchange, and one shelf or several",
        answers: "How many ready frames keep others waiting no longer? What would a shelf a fleet take?",
        formula:
          "Frames in the shop are Poisson with mean openings a day times days in the shop: the least number that they pass no more often than asked for. One shelf a fleet: the sum of what each would hold for the same chance by itself.",
        source:
          "Palm 1938, Ericsson Technics 44; Sherbrooke, Optimal Inventory Modeling of Systems, chapter 2; Eppen 1979, Management Science 25:498-501",
      },
      {
        name: "Planned age of a rebuild (age replacement)",
        answers: "Is it cheaper to rebuild before failure, and at which age?",
        formula:
          "Cost of running with a rebuild at age T: (planned cost x R(T) + cost after failure x (1 - R(T))) / integral of R from 0 to T; the least against that of waiting. Of a slot only where the limits of the shape lie above 1; of whole frames R is the product over the slots that every rebuild renews. Worth it where the lower limit of the saving, by drawn laws at the age chosen, lies above nothing; else a plain don't.",
        source: "Barlow & Proschan, Mathematical Theory of Reliability, chapter 4",
      },
      {
        name: "Past forecasts replayed",
        answers: "How well would this have foretold the last years?",
        formula:
          "Every three months from the third year on, the forecast of twelve months as it would have been made from what was known that day, against the pieces that the cards of those months put in; units that came later apart. How often ranges hold is counted over windows that do not overlap. Loss: mean pinball loss over the quantiles told, beside last year's use, the mean rate, and smoothed demand with its bias corrected. Where one of those loses less, the page says so.",
        source:
          "Koenker & Bassett 1978, Econometrica 46:33-50; Czado, Gneiting & Held 2009, Biometrics 65:1254-1261; Croston 1972, Operational Research Quarterly 23:289-303; Syntetos & Boylan 2005, International J. Forecasting 21:303-314",
      },
    ],
  },
];
