/**
 * The numbers that a regression fitted, and those of the fits that each lack one cluster of rows: what a jackknife takes, of whatever
 * regression.
 */
export type ClusterRefits = {
  /** Of the fit of all rows. */
  full: Float64Array;
  /** Of each fit that lacks a cluster, in the same order of numbers. */
  without: Float64Array[];
};
