/** A lead time beyond this, days, is no lead time but a mark for "not known", or a slip. */
export const LONGEST_LEAD = 1500;
