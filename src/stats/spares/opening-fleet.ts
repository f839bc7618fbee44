/** Units that open as wholes, with their slots. */
export type OpeningFleet = {
  /** Slots of a unit, from 1 on; all units have as many. */
  slots: number;
  /** Of each unit, the group whose laws and restart chances it has, from 0 on. */
  group: Int32Array;
  /** Hours that each slot has run, units x slots, a unit's slots together: 0 or more. */
  age: Float64Array;
  /** Middle running rate of each unit, hours a month: 0 or more. */
  rate: Float64Array;
  /** Standard deviation of the log of that rate, drawn once a draw for the whole time ahead; all 0 where not given. */
  rateSpread?: Float64Array;
  /** Months after which each unit is there no more, Infinity for none; all Infinity where not given. */
  leaves?: Float64Array;
  /** Months from each unit's opening to when it takes its parts, by which openings are counted: 0 or more; all 0 where not given. */
  delay?: Float64Array;
  /** Planned openings: a unit and months from now, 0 or more; in any order, as many a unit as wanted. They come whether or not the unit opened before. */
  planned?: { unit: Int32Array; month: Float64Array };
  /** Of each unit, the group of results it is counted in, from 0 on; its `group` where not given. */
  countedIn?: Int32Array;
  /** Of each unit, a number by which its chances are drawn, so that it meets the same whatever units are beside it; its place where not given. */
  key?: Int32Array;
};

/** Weibull laws of the slots of each group. */
export type SlotLaws = {
  /** Shapes, laws x groups x slots, a group's slots together: one or more sets of laws, as drawn from a fit. A draw takes the set of its number, from the first again after the last. */
  shape: Float64Array;
  /** Scales, hours, likewise; Infinity for a slot that never fails by itself. */
  scale: Float64Array;
  /** Chance that a slot restarts when its unit opens for another reason, groups x slots: 1 for what is always replaced. A slot that failed restarts always. */
  restart: Float64Array;
  /** The same as drawn, laws x groups x slots, where how well they are known is to count; else all draws have those of `restart`. */
  restarts?: Float64Array;
};

/** @throws RangeError for a fleet or laws that don't fit together */
export function checkOpeningFleet(
  fleet: OpeningFleet,
  laws: SlotLaws,
): { units: number; groups: number; sets: number } {
  const {
    slots,
    group,
    age,
    rate,
    rateSpread = rate,
    leaves = rate,
    delay = leaves,
    countedIn = group,
    key = group,
    planned,
  } = fleet;
  const units = group.length;
  const groups = laws.restart.length / slots;
  const sets = laws.shape.length / laws.restart.length;
  need(Number.isInteger(slots) && slots >= 1, `a unit has ${slots} slots`);
  need(age.length === units * slots, `${units} units of ${slots} slots have ${age.length} ages`);
  for (const column of [rate, rateSpread, leaves, delay, countedIn, key])
    need(column.length === units, "columns differ in length");
  need(Number.isInteger(groups), `${laws.restart.length} restart chances are not ${slots} a group`);
  need(Number.isInteger(sets) && sets >= 1 && laws.scale.length === laws.shape.length, "laws are not so many a group");
  need(
    group.every((one) => one >= 0 && one < groups),
    "a unit has a group without laws",
  );
  need(
    countedIn.every((one) => one >= 0),
    "a unit is counted in a group below 0",
  );
  needAmounts({ age, rate, "spread of rates": rateSpread });
  need(
    leaves.every((month) => month >= 0),
    "a unit leaves before it is there",
  );
  needAmounts({ delay: fleet.delay ?? rate });
  need((laws.restarts ?? laws.shape).length === laws.shape.length, "drawn restart chances are not as many as laws");
  need(
    [laws.restart, laws.restarts ?? laws.restart].every((chances) =>
      chances.every((chance) => chance >= 0 && chance <= 1),
    ),
    "a restart chance is not in [0, 1]",
  );
  need(
    laws.shape.every((shape) => shape > 0 && shape < Number.POSITIVE_INFINITY),
    "a shape is not above 0",
  );
  need(
    laws.scale.every((scale) => scale > 0),
    "a scale is not above 0",
  );
  if (planned !== undefined) {
    need(planned.unit.length === planned.month.length, "planned openings differ in length");
    need(
      planned.unit.every((unit) => unit >= 0 && unit < units),
      "an opening is planned for a unit that is not there",
    );
    needAmounts({ "planned month": planned.month });
  }
  return { units, groups, sets };
}

function needAmounts(columns: Record<string, Float64Array>): void {
  for (const [name, column] of Object.entries(columns)) {
    const wrong = column.find((value) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
    need(wrong === undefined, `${name} must be 0 or more, found ${wrong}`);
  }
}

function need(holds: boolean, found: string): void {
  if (!holds) throw new RangeError(`Cannot open units: ${found}`);
}
