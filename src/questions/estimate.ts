/** A figure with its limits. A one-sided bound has one end null; a figure that can't be had is null, with the reason. */
export type Estimate = { estimate: number | null; low: number | null; high: number | null; reason?: string };
