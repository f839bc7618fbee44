/** What rolls in a bearing: balls touch in points, rollers in lines, and load shortens the life of the two by different powers. */
export type RollingElement = "ball" | "roller";

/** Exponent of load in the life equation of ISO 281. */
export const LIFE_EXPONENT: Record<RollingElement, number> = { ball: 3, roller: 10 / 3 };

/** Weibull slope of bearing lives that ISO 281 rests on; `common` is the one of its system-life rule. From memory. */
export const LIFE_SLOPE = { ball: 10 / 9, roller: 9 / 8, common: 1.5 };
