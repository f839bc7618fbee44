/** What every report and bench sheet says of the work itself. */
export const WORK_CAUTIONS = [
  "Shafts, belts and couplings injure: isolate, lock out, tag and prove dead before a guard comes off or a frame is opened, and put the guards back before starting. Let the pump cool and vent its pressure first; drained oil can scald.",
  "A bearing heated for fitting burns at a touch, and an oil bath can catch fire: controlled heater, insulated gloves, no open flame, never above the maker's limit.",
  "Presses, lifting gear and shims: guard the press and push on the ring that is being fitted, never through the balls; wear eye protection; lift with rated gear, frames are heavy and hang off centre; shims cut. Never spin a bearing with compressed air.",
  "Solvents poison and ignite: ventilate, wear gloves, keep sparks away.",
];
