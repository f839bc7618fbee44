/** What a planned rebuild and one after a failure cost, and where the amounts come from. */
export type ReplaceCosts = { planned: number; unplanned: number; currency: string | null; source: string };
