import type { Unit } from "../../mapping/units.ts";

/** Values that a unit makes likely for a field, and those that its gauge can read at all. */
export type Band = { unit: Unit; likely: [number, number]; possible: [number, number] };

const lengths = (mm: Band, um: Band): Band[] => [mm, um];

/** From the face of the frame or the bracket to where the race sits. */
const DEPTHS: Band[] = [
  { unit: "mm", likely: [3, 150], possible: [0, 300] },
  { unit: "in", likely: [0.12, 6], possible: [0, 12] },
  { unit: "thou", likely: [120, 6000], possible: [0, 12_000] },
];

/** Common practice, no source: a pump's bearing frame as shops build it. Values in the band's own unit. */
export const BANDS: Record<string, Band[]> = {
  end_play: [
    { unit: "thou", likely: [0.5, 20], possible: [0.3, 20] },
    { unit: "in", likely: [0.0005, 0.02], possible: [0.0003, 0.02] },
    ...lengths(
      { unit: "mm", likely: [0.012, 0.5], possible: [0.005, 0.5] },
      { unit: "um", likely: [12, 500], possible: [5, 500] },
    ),
  ],
  end_play_found: [
    { unit: "thou", likely: [0.5, 40], possible: [0, 60] },
    { unit: "in", likely: [0.0005, 0.04], possible: [0, 0.06] },
    ...lengths(
      { unit: "mm", likely: [0.012, 1], possible: [0, 1.5] },
      { unit: "um", likely: [12, 1000], possible: [0, 1500] },
    ),
  ],
  shims: [
    { unit: "thou", likely: [2, 100], possible: [0, 100] },
    { unit: "in", likely: [0.002, 0.1], possible: [0, 0.1] },
    ...lengths(
      { unit: "mm", likely: [0.05, 2.5], possible: [0, 2.5] },
      { unit: "um", likely: [50, 2500], possible: [0, 2500] },
    ),
  ],
  race_depth: DEPTHS,
  spigot_height: DEPTHS,
  end_play_unshimmed: [
    { unit: "thou", likely: [2, 120], possible: [0, 150] },
    { unit: "in", likely: [0.002, 0.12], possible: [0, 0.15] },
    ...lengths(
      { unit: "mm", likely: [0.05, 3], possible: [0, 4] },
      { unit: "um", likely: [50, 3000], possible: [0, 4000] },
    ),
  ],
  ring_temperature: [
    { unit: "C", likely: [80, 120], possible: [50, 125] },
    { unit: "F", likely: [175, 250], possible: [120, 260] },
  ],
  hours_removed: [{ unit: "h", likely: [20, 100_000], possible: [0, 100_000] }],
  hours_installed: [{ unit: "h", likely: [20, 100_000], possible: [0, 100_000] }],
  hours: [{ unit: "h", likely: [20, 100_000], possible: [0, 100_000] }],
  old_meter_hours: [{ unit: "h", likely: [20, 100_000], possible: [0, 100_000] }],
  speed: [{ unit: "rpm", likely: [200, 3600], possible: [100, 4000] }],
  bore: [
    { unit: "mm", likely: [10, 300], possible: [3, 1000] },
    { unit: "in", likely: [0.4, 12], possible: [0.1, 40] },
  ],
  outside_diameter: [
    { unit: "mm", likely: [26, 600], possible: [8, 2000] },
    { unit: "in", likely: [1, 24], possible: [0.3, 80] },
  ],
  width: [
    { unit: "mm", likely: [8, 150], possible: [2, 500] },
    { unit: "in", likely: [0.3, 6], possible: [0.1, 20] },
  ],
  dynamic_rating: [
    { unit: "kN", likely: [4, 1500], possible: [0.5, 10_000] },
    { unit: "N", likely: [4000, 1_500_000], possible: [500, 10_000_000] },
    { unit: "lbf", likely: [900, 340_000], possible: [100, 2_000_000] },
  ],
  static_rating: [
    { unit: "kN", likely: [2, 2000], possible: [0.3, 15_000] },
    { unit: "N", likely: [2000, 2_000_000], possible: [300, 15_000_000] },
    { unit: "lbf", likely: [450, 450_000], possible: [60, 3_000_000] },
  ],
  fatigue_limit: [
    { unit: "kN", likely: [0.1, 150], possible: [0.01, 1000] },
    { unit: "N", likely: [100, 150_000], possible: [10, 1_000_000] },
    { unit: "lbf", likely: [22, 34_000], possible: [2, 200_000] },
  ],
  contact_angle: [{ unit: "deg", likely: [0, 60], possible: [0, 90] }],
  lead_time: [
    { unit: "day", likely: [1, 400], possible: [0, 1000] },
    { unit: "wk", likely: [1, 60], possible: [0, 150] },
  ],
  lead_time_low: [
    { unit: "day", likely: [1, 400], possible: [0, 1000] },
    { unit: "wk", likely: [1, 60], possible: [0, 150] },
  ],
  lead_time_high: [
    { unit: "day", likely: [1, 400], possible: [0, 1000] },
    { unit: "wk", likely: [1, 60], possible: [0, 150] },
  ],
};
