import type { Lives } from "../../../src/stats/lives.ts";
import { PublishedCase } from "../../published-case.ts";

/** Lives from ages with + for those still running: "6 6+ 7". */
export function lives(text: string): Lives {
  const words = text.split(/\s+/).filter((word) => word !== "");
  return {
    time: Float64Array.from(words, (word) => Number.parseFloat(word)),
    failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
  };
}

/** W-LR3: weeks in remission, treated and control (Freireich et al. 1963, Blood 21:699; R's MASS::gehan). */
export const treated = lives("6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+");
export const control = lives("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23");

/** Zelen 1959, hours of capacitors: a group per voltage, in rising order (200, 250, 300, 350 V). */
export function capacitorsByVoltage(): Lives[] {
  const data = new PublishedCase("06_capacitor");
  const voltage = data.numbers("voltage");
  const time = data.numbers("time");
  const failed = data.flags("status");
  return [200, 250, 300, 350].map((volts) => ({
    time: time.filter((_, life) => voltage[life] === volts),
    failed: failed.filter((_, life) => voltage[life] === volts),
  }));
}

/** A value times a constant, for change of unit. */
export function scaled(group: Lives, factor: number): Lives {
  return { ...group, time: group.time.map((age) => age * factor) };
}
