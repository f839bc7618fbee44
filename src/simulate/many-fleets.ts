import { Scenario } from "./scenario.ts";

/** Frames that are lived through together; a fleet of more is several such. */
const CREW = 200;

/** Rebuilds in its nine years of records that a frame of these fleets has at least, on average: 7.28 counted over 20,000 frames. */
const REBUILDS_A_UNIT = 7;

/** One group of frames of a fleet: whose it is, and which. */
export type Crew = { fleet: string; number: number; units: number };

/** What is true of many fleets alike: laws of six slots, an end play that matters, two lubes, an offending position in each crew. Invented. */
export function crewScenario(crew: Crew): Scenario {
  const code = `${crew.fleet.toUpperCase()}-${crew.number}`;
  const places = Math.floor(0.85 * crew.units);
  const clean = Math.ceil(0.6 * places);
  return Scenario.parse({
    title: "Many fleets alike",
    seed: 1,
    ...{ begins: "2013-01-01", records_begin: "2016-01-01", as_of: "2024-12-31" },
    slots: {
      drive_end_bearings: {
        shape: 1.7,
        scale: 17_000,
        modes: { surface_fatigue: 3, abrasive_wear: 3, indentation: 1 },
      },
      pump_end_bearing: { shape: 1.5, scale: 26_000, modes: { abrasive_wear: 2, moisture_corrosion: 2 } },
      drive_end_seals: { shape: 1.4, scale: 19_000, modes: { lip_wear: 3, lip_hardening: 2 } },
      pump_end_seals: { shape: 1.3, scale: 16_000, modes: { lip_wear: 1, lip_cut: 1 } },
      shaft_sleeve: { kit: false, renewed: 0.35, shape: 2.2, scale: 30_000, modes: { sleeve_groove: 1 } },
      shaft: { kit: false, renewed: 0.05, shape: 2.5, scale: 90_000, modes: { abrasive_wear: 1 } },
    },
    effects: {
      end_play: { slots: ["drive_end_bearings"], best_thou: 4.6, tight: 0.11, slack: 0.03 },
      lube: { slots: ["drive_end_bearings", "pump_end_bearing"], life: { oil_bath: 1, grease: 0.7 } },
      unit_sd: 0.15,
    },
    bench: {
      end_play_mean: 4.3,
      end_play_sd: 1.6,
      gauge_sd: 0.3,
      fitters: 8,
      fitter_sd: 0.4,
      copied: 0.06,
      copied_as: 5,
    },
    fleets: [
      {
        name: crew.fleet,
        format: "plain",
        units: crew.units,
        unit_prefix: `${code}-`,
        early_units: 0.45,
        bought_within_days: 1000,
        last_rebuild_known: 0.8,
        models: [
          { name: "BF-60", speed_rpm: 1480, share: 3 },
          { name: "BF-80", speed_rpm: 980, share: 2 },
        ],
        oil_bath: 0.6,
        lube_matched: 0.8,
        position_prefix: `${code}-P`,
        sites: [
          { name: `${code} North`, surroundings: "clean", positions: clean },
          { name: `${code} South`, surroundings: "dirty", positions: places - clean },
        ],
        offenders: [{ position: `${code}-P01`, slots: ["drive_end_bearings"], life: 0.2 }],
        hours_a_day: { mean: 14, log_sd: 0.2, most: 21 },
        idle: { spells_a_year: 0.8, days: [7, 45] },
        ...{ days_to_shop: [0, 5], days_in_shop: [3, 20], days_to_install: [1, 6] },
        planned_after_hours: { mean: 9500, sd: 2500 },
        retired_a_year: 0.012,
        meter: { changes: 0, stuck: 0, rollovers: 0 },
      },
    ],
    truth: { lives: 1000, histories: 0 },
  });
}

/**
 * Crews of `rebuilds` rebuilds or so, shared out evenly over the fleets.
 * @example crewsOf(1000, 2); // two crews, of 71 and 72 frames, of the fleets f001 and f002
 */
export function crewsOf(rebuilds: number, fleets: number): Crew[] {
  const units = Math.max(4 * fleets, Math.ceil(rebuilds / REBUILDS_A_UNIT));
  return Array.from({ length: fleets }, (_, at) => {
    const own = Math.floor(((at + 1) * units) / fleets) - Math.floor((at * units) / fleets);
    const crews = Math.ceil(own / CREW);
    const fleet = `f${String(at + 1).padStart(3, "0")}`;
    return Array.from({ length: crews }, (_, crew) => ({
      fleet,
      number: crew + 1,
      units: Math.floor(((crew + 1) * own) / crews) - Math.floor((crew * own) / crews),
    }));
  }).flat();
}
