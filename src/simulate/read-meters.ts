import { UserError } from "../errors.ts";
import { firstOfMonth, yearOf } from "./day.ts";
import type { FleetHistory, Stay, Unit } from "./history.ts";
import { hoursOn, type MeterSpan, ROLLOVER_AT, shownHours } from "./meter.ts";
import type { Random } from "./random.ts";
import type { MeterFault, ReadingRecord } from "./records.ts";
import type { World } from "./world.ts";

/** When the rounds reach the places: the middle of these months, and some days after. */
const ROUND_MONTHS = [3, 6, 9, 12];
const MIDDLE_OF_MONTH = 14;
const ROUND_LASTS_DAYS = 6;
/** A meter that sticks is seen to on the fifth round. */
const STUCK_ROUNDS = 4;

/** A frame with its stays and its meter. */
export type Metered = { unit: Unit; stays: Stay[]; spans: MeterSpan[]; rounds: number[] };

/** Every frame that was ever in service, with meter and rounds; some meters are changed, stick, or roll over. */
export function readMeters(world: World, history: FleetHistory): { metered: Metered[]; faults: MeterFault[] } {
  const metered = history.units
    .map((unit) => ({ unit, stays: history.stays.filter((stay) => stay.unit === unit) }))
    .filter(({ stays }) => stays.length > 0)
    .map(({ unit, stays }): Metered => {
      const spans = [{ from: stays[0]!.installedOn, hours: 0, shown: 0, stuckFrom: null }];
      return { unit, stays, spans, rounds: roundsOf(world, unit, stays) };
    });
  return { metered, faults: spoilMeters(world, metered) };
}

/** The days on which the rounds find a unit in service. */
function roundsOf(world: World, unit: Unit, stays: Stay[]): number[] {
  const { plan, recordsBegin, asOf } = world;
  const days = roundDays(world, unit);
  // Plain records read each meter on the last day too.
  if (plan.format === "plain") days.push(stays.at(-1)!.ends === "retirement" ? unit.retiresOn : asOf);
  return [...new Set(days)]
    .sort((a, b) => a - b)
    .filter((day) => day >= recordsBegin && day <= asOf && inService(stays, day));
}

/** The days on which the rounds would reach a unit: some rounds pass it by. */
function roundDays({ plan, scenario, recordsBegin, asOf, random }: World, unit: Unit): number[] {
  const own = random("rounds", unit.index);
  const lasts = plan.format === "plain" ? 0 : ROUND_LASTS_DAYS;
  const days: number[] = [];
  for (let year = yearOf(recordsBegin); year <= yearOf(asOf); year++) {
    for (const month of ROUND_MONTHS) {
      const late = own.integer(0, lasts);
      if (!own.chance(scenario.records?.readings_missed ?? 0))
        days.push(firstOfMonth(year, month) + MIDDLE_OF_MONTH + late);
    }
  }
  return days;
}

function inService(stays: Stay[], day: number): boolean {
  return stays.some(
    ({ installedOn, removedOn, ends }) =>
      installedOn < day && (day < removedOn || (day === removedOn && (ends === "running" || ends === "retirement"))),
  );
}

function spoilMeters(world: World, metered: Metered[]): MeterFault[] {
  const { plan, recordsBegin } = world;
  const random = world.random("meters");
  const left = metered
    .map((meter) => ({ meter, turn: random.uniform() }))
    .sort((a, b) => a.turn - b.turn)
    .map(({ meter }) => meter);
  const take = (fits: (meter: Metered) => boolean) => {
    const at = left.findIndex(fits);
    if (at === -1)
      throw new UserError(
        `Cannot plant the meter faults of fleet "${plan.name}": too few of its ${metered.length} units are long enough in service; ask for fewer under meter`,
      );
    return left.splice(at, 1)[0]!;
  };
  const faults: MeterFault[] = [];
  for (let n = 0; n < plan.meter.rollovers; n++) {
    faults.push(
      rollOver(
        take(({ stays }) => stays[0]!.installedOn < recordsBegin && stays.length > 3),
        recordsBegin,
      ),
    );
  }
  const byCards = plan.format === "wide_inch";
  const long = (meter: Metered) => (byCards ? meter.stays.length >= 6 : meter.rounds.length >= 4 * STUCK_ROUNDS);
  for (let n = 0; n < plan.meter.stuck; n++) faults.push(stick(take(long), random));
  for (let n = 0; n < plan.meter.changes; n++) faults.push(change(take(long), byCards, random));
  return faults;
}

function rollOver(meter: Metered, recordsBegin: number): MeterFault {
  const begin = hoursOn(meter.stays, recordsBegin) ?? 0;
  const half = (begin + meter.stays.at(-1)!.hoursRemoved) / 2;
  meter.spans[0]!.shown = Math.round(ROLLOVER_AT - half);
  let day = recordsBegin;
  while ((hoursOn(meter.stays, day) ?? 0) < half) day++;
  return { unit: meter.unit.serial, kind: "rollover", from: day, to: null };
}

/** It sticks just after one round and shows the same at the next ones, until a new meter is put on. */
function stick(meter: Metered, random: Random): MeterFault {
  const at = random.integer(STUCK_ROUNDS, meter.rounds.length - 2 * STUCK_ROUNDS);
  const [from, to] = [meter.rounds[at]!, meter.rounds[at + STUCK_ROUNDS]!];
  meter.spans.at(-1)!.stuckFrom = hoursOn(meter.stays, from);
  putOnNew(meter, to);
  return { unit: meter.unit.serial, kind: "stuck", from, to };
}

/** A new meter that shows 0: put on at a round, or in the shop where there are no rounds. */
function change(meter: Metered, byCards: boolean, random: Random): MeterFault {
  const days = byCards ? meter.stays.map(({ installedOn }) => installedOn) : meter.rounds;
  const third = Math.floor(days.length / 3);
  const on = days[random.integer(third, 2 * third)]!;
  putOnNew(meter, on);
  return { unit: meter.unit.serial, kind: "change", from: on, to: null };
}

function putOnNew(meter: Metered, on: number): void {
  meter.spans.push({ from: on, hours: hoursOn(meter.stays, on)!, shown: 0, stuckFrom: null });
}

/** The readings of the rounds, and the first one of a unit commissioned within the records. */
export function roundReadings({ recordsBegin }: World, metered: Metered[]): ReadingRecord[] {
  const readings = metered.flatMap(({ unit, stays, spans, rounds }) => {
    const first = stays[0]!.installedOn;
    const days = first >= recordsBegin ? [first, ...rounds.filter((day) => day > first)] : rounds;
    return days.map((readOn): ReadingRecord => {
      const hours = hoursOn(stays, readOn)!;
      const changed = spans.findIndex(({ from }) => from === readOn) > 0;
      const oldMeterHours = changed ? shownHours(spans, readOn - 1, hours) : null;
      return { unit: unit.serial, readOn, hours: shownHours(spans, readOn, hours), oldMeterHours };
    });
  });
  return readings.sort((a, b) => a.readOn - b.readOn || (a.unit < b.unit ? -1 : 1));
}
