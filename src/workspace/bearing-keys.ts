/** Contact angles whose load factors are known; of others X and Y are to be given. */
export const KNOWN_ANGLES = [15, 25, 30, 40] as const;

/** Keys that go with another bearing when a fleet has one. */
export const CATALOGUE_KEYS = [
  "part",
  "kind",
  "dynamic_rating",
  "static_rating",
  "fatigue_limit",
  "contact_angle",
  "f0",
  "mean_diameter",
  "x",
  "y",
] as const;

/** Loads, with their factors, are told together or not at all. */
export const LOAD_KEYS = ["equivalent_load", "radial_load", "axial_load", "x", "y"] as const;
