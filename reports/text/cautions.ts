/** Who has the last word. */
export const DEFERRAL =
  "These pages summarise past records. The current instructions of the pump's and the bearing's maker, the rules of the site, local codes and the judgement of a licensed or otherwise competent person come first; where they differ from a page, follow them. Statistics inform such a person's decision; they certify no machine, and no safety-critical decision should rest on them alone.";

/** Both in short, for a page that is one sheet on paper. */
export const SHEET_CAUTION =
  "Rotating and hot parts, presses, lifting gear and solvents injure: isolate, lock out and prove dead, guard, lift with rated gear, no open flame. The makers' instructions, site rules, local codes and a competent person come first. Statistics of past rebuilds certify no machine, and no figure here is a setting but the window, by its source.";

/** What every report says of its figures. */
export const STATISTICAL_CAUTIONS = [
  "Read the interval before the estimate. Few failures make wide intervals, and a shape from fewer than five failures says little.",
  "Records show what went together, not what caused what: fleets, sites and frames differ in duty, and lubrication and settings are chosen for the duty.",
  "Lives still running and parts taken out unfailed are counted as such. A mean over the failures alone would be far too short and is not given.",
  "L10 here is the running time by which one in ten was removed as failed in this service, for whatever reason the cards give; it is not a catalogue rating of fatigue life.",
  "Fitted lines rest on the Weibull law. Beyond the oldest failure, where lines are broken and bands are pale, the law speaks and no record does.",
  "A frame or position that is named as coming back too often may still be an ordinary one that had bad luck; the chance of that is given with each.",
  "Rows that could not be used are counted on the page on data quality; what is missing may differ from what is there.",
];
