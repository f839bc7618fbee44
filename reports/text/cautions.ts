/** What every report says of the work itself. */
export const WORK_CAUTIONS = [
  "Shafts, belts and couplings injure: isolate, lock out, tag and prove dead before a guard comes off or a frame is opened, and put the guards back before starting. Let the pump cool and vent its pressure first; drained oil can scald.",
  "A bearing heated for fitting burns at a touch, and an oil bath can catch fire: controlled heater, insulated gloves, no open flame, never above the maker's limit.",
  "Presses, lifting gear and shims: guard the press and push on the ring that is being fitted, never through the balls; wear eye protection; lift with rated gear, frames are heavy and hang off centre; shims cut. Never spin a bearing with compressed air.",
  "Solvents poison and ignite: ventilate, wear gloves, keep sparks away.",
];

/** Who has the last word. */
export const DEFERRAL =
  "These pages summarise past records. The current instructions of the pump's and the bearing's maker, the rules of the site, local codes and the judgement of a licensed or otherwise competent person come first; where they differ from a page, follow them. Statistics inform such a person's decision; they certify no machine, and no safety-critical decision should rest on them alone.";

/** What every report says of its figures. */
export const STATISTICAL_CAUTIONS = [
  "Read the interval before the estimate. Few failures make wide intervals, and a shape from fewer than five failures says little.",
  "Records show what went together, not what caused what: fleets, sites and frames differ in duty, and lubrication and settings are chosen for the duty.",
  "Lives still running and parts taken out unfailed are counted as such. A mean over the failures alone would be far too short and is not given.",
  "L10 here is the running time by which one in ten was removed as failed in this service, for whatever reason the cards give; it is not a catalogue rating of fatigue life.",
  "Fitted lines rest on the Weibull law. Beyond the oldest failure, where lines are broken and bands are pale, the law speaks and no record does.",
  "A frame or position that is named as coming back too often may still be an ordinary one that had bad luck; the chance of that is given with each.",
  "Rows that could not be used are counted under data accounting; what is missing may differ from what is there.",
];
