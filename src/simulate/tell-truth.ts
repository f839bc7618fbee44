import { dayOf, isoDate } from "./day.ts";
import { endPlayFactor } from "./end-play-factor.ts";
import { formatOf } from "./formats/format-of.ts";
import type { FleetHistory } from "./history.ts";
import { liveFleet } from "./live-fleet.ts";
import type { FleetRecords } from "./records.ts";
import type { Scenario } from "./scenario.ts";
import { simulatedQuantiles } from "./simulated-quantiles.ts";
import { useAfter } from "./use-after.ts";
import { worldOf } from "./world.ts";
import type { WrittenFile } from "./write-exports.ts";

/** A fleet as it was, as it was recorded, and as it was written. */
export type TruthSource = { history: FleetHistory; records: FleetRecords; files: WrittenFile[] };

/** The declared truth of a scenario and what came of it under a seed; hours are running hours. */
export type Truth = ReturnType<typeof tellTruth>;

/** What a perfect analysis would find, to be written beside the exports. */
export function tellTruth(
  scenario: Scenario,
  sources: TruthSource[],
  { seed, shopFiles }: { seed: number; shopFiles: WrittenFile[] },
) {
  return {
    title: scenario.title,
    seed,
    as_of: scenario.as_of,
    records_begin: scenario.records_begin,
    note: [
      `l10_hours and median_hours: the 10 % and 50 % points of ${scenario.truth.lives} simulated lives per fleet and slot.`,
      "Each takes the covariates of one life that began within the records (end play as truly built, lube, surroundings, position, batch, unit)",
      "and a Weibull draw of the slot's declared law. In days in service: divide by the fleet's running_hours_a_day.",
      `expected_failures: the mean over ${scenario.truth.histories} histories of the fleet lived again.`,
      "wrong_shims: cards that tell of another pack of shims than was fitted.",
      "use_after: the same histories run on; month by month after as_of the frames built, and in how many of them each slot was renewed.",
    ].join(" "),
    slots: scenario.slots,
    effects: scenario.effects,
    end_play: endPlayTruth(scenario),
    records: scenario.records ?? null,
    fleets: sources.map((source) => fleetTruth(scenario, source, seed)),
    shop_files: shopFiles,
  };
}

function endPlayTruth({ effects }: Scenario) {
  const curve = effects.end_play;
  if (curve === undefined) return null;
  const at = (thou: number) => ({ thou, life_as_share_of_best: rounded(endPlayFactor(thou, curve), 4) });
  return { best_thou: curve.best_thou, slots: curve.slots, curve: [1, 2, 3, 4, 5, 6, 7, 8, 9].map(at) };
}

function fleetTruth(scenario: Scenario, { history, records, files }: TruthSource, seed: number) {
  const { plan } = history;
  const recordsBegin = dayOf(scenario.records_begin);
  const months = scenario.truth.months_after;
  const recorded = history.rebuilds.filter(({ stay }) => stay.removedOn >= recordsBegin);
  const count = (ends: string) => recorded.filter(({ stay }) => stay.ends === ends).length;
  return {
    fleet: plan.name,
    units: records.units.length,
    retired: records.retirements.length,
    rebuilds: recorded.length,
    failures: count("failure"),
    planned: count("planned"),
    opportunity: count("opportunity"),
    modification: count("modification"),
    running_hours_a_day: rounded(hoursADay(history), 2),
    lives: Object.entries(scenario.slots).map(([slot, law]) => {
      const factors = history.lives
        .filter((life) => life.slot === slot && life.beganOn >= recordsBegin)
        .map(({ factor }) => factor);
      const label = `${plan.name}/${slot}`;
      const [l10, median] = simulatedQuantiles(law, factors, {
        lives: scenario.truth.lives,
        at: [0.1, 0.5],
        seed,
        label,
      });
      return {
        slot,
        l10_hours: rounded(l10!, 1),
        median_hours: rounded(median!, 1),
        lives_begun: factors.length,
        failures: recorded.filter(({ stay }) => stay.failedSlot === slot).length,
      };
    }),
    offenders: offenders(scenario, history, seed),
    bad_batch: badBatch(scenario, history),
    meter_faults: records.meterFaults.map((fault) => ({
      ...fault,
      from: isoDate(fault.from),
      to: fault.to === null ? null : isoDate(fault.to),
    })),
    corrected_cards: records.firstWritten.size,
    wrong_shims: records.wrongShims.map(({ number, written, fitted }) => ({
      card: formatOf(plan).cardNumber(number),
      written_thou: written,
      fitted_thou: fitted,
    })),
    use_after: months === 0 ? null : useAfter(worldOf(scenario, plan, seed), months),
    files,
  };
}

/** Running hours per calendar day in service, over all stays. */
function hoursADay({ stays }: FleetHistory): number {
  const hours = stays.reduce((sum, stay) => sum + stay.hoursRemoved - stay.hoursInstalled, 0);
  const days = stays.reduce((sum, stay) => sum + stay.removedOn - stay.installedOn, 0);
  return hours / days;
}

function failuresAt({ rebuilds }: FleetHistory, position: string, from: number): number {
  return rebuilds.filter(
    ({ stay }) => stay.ends === "failure" && stay.position.code === position && stay.removedOn >= from,
  ).length;
}

function offenders(scenario: Scenario, history: FleetHistory, seed: number) {
  const { plan } = history;
  if (plan.offenders.length === 0) return [];
  const from = dayOf(scenario.records_begin);
  const ordinary = { ...plan, offenders: [] };
  const expected = (as: typeof plan) => {
    const totals = plan.offenders.map(() => 0);
    for (let n = 1; n <= scenario.truth.histories; n++) {
      const replayed = liveFleet(worldOf(scenario, as, seed, n));
      plan.offenders.forEach(({ position }, index) => {
        totals[index]! += failuresAt(replayed, position, from);
      });
    }
    return totals.map((total) =>
      scenario.truth.histories === 0 ? null : rounded(total / scenario.truth.histories, 2),
    );
  };
  const [planted, unplanted] = [expected(plan), expected(ordinary)];
  return plan.offenders.map(({ position, slots, life, shows }, index) => ({
    position,
    slots,
    life_as_share_of_others: life,
    shows: shows ?? null,
    failures: failuresAt(history, position, from),
    expected_failures: planted[index] ?? null,
    expected_failures_if_ordinary: unplanted[index] ?? null,
    frames: new Set(
      history.stays
        .filter((stay) => stay.position.code === position && stay.removedOn >= from)
        .map(({ unit }) => unit.serial),
    ).size,
  }));
}

function badBatch({ effects }: Scenario, { rebuilds }: FleetHistory) {
  if (effects.batch === undefined) return null;
  const { batch, life } = effects.batch.bad;
  const fitted = rebuilds.flatMap(({ findings }) => findings).filter((finding) => finding.batch === batch).length;
  return { batch, life_as_share_of_others: life, fitted };
}

function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
