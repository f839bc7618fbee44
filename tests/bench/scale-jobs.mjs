// The jobs of the scale bench, in the order in which they are done. `on`: the workspace that it is done in, of one fleet or of many. `peer`: what
// it is held against in the same run (scale-peers.mjs). `goals`: in goals.mjs.

/** @typedef {{ name: string, title: string, on: "one" | "many", args: string[], peer?: string, goals: string[] }} Job */

/** @type {Job[]} */
export const JOBS = [
  { name: "ingest", title: "ingest", on: "one", args: ["ingest"], peer: "bare", goals: ["P2"] },
  {
    name: "lives",
    title: "the first question: lives derived",
    on: "one",
    args: ["query", "select count(*) from life"],
    peer: "window",
    goals: ["P3"],
  },
  { name: "run", title: "run: answers, lives kept, report", on: "one", args: ["run"], goals: [] },
  {
    name: "life",
    title: "life, one group, profile limits",
    on: "one",
    args: ["life", "--slot", "drive_end_bearings", "--interval", "profile"],
    peer: "whole",
    goals: ["P5"],
  },
  {
    name: "life-clustered",
    title: "life, one group, limits by default",
    on: "one",
    args: ["life", "--slot", "drive_end_bearings"],
    goals: [],
  },
  { name: "intervals", title: "intervals", on: "one", args: ["intervals"], goals: [] },
  { name: "offenders", title: "offenders", on: "one", args: ["offenders"], goals: ["P14"] },
  { name: "compare", title: "compare end_play", on: "one", args: ["compare", "end_play"], goals: [] },
  { name: "spares", title: "spares, 36 months", on: "one", args: ["spares", "--horizon", "36"], goals: ["P13"] },
  { name: "run-many", title: "run, many fleets", on: "many", args: ["run"], goals: [] },
  {
    name: "life-by",
    title: "life, each fleet and slot apart",
    on: "many",
    args: ["life", "--interval", "profile"],
    peer: "groups",
    goals: ["P11"],
  },
  { name: "report", title: "report, many fleets", on: "many", args: ["report"], goals: ["P16"] },
];

export const SLOTS = [
  "drive_end_bearings",
  "pump_end_bearing",
  "drive_end_seals",
  "pump_end_seals",
  "shaft_sleeve",
  "shaft",
];
