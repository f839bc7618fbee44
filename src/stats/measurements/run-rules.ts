/** Rules by which readings in their order are unusual, each on one side of the centre line. */
export type RunRule = "1 beyond 3 sigma" | "2 of 3 beyond 2 sigma" | "4 of 5 beyond 1 sigma" | "8 in a row on one side";

/** A rule broken by a reading, with those that led up to it. */
export type RuleBreak = {
  rule: RunRule;
  /** The reading that breaks it, counted from 0. */
  at: number;
  /** The first of the readings that the rule counts. */
  from: number;
  side: "above" | "below";
};

const RULES: { rule: RunRule; beyond: number; least: number; among: number }[] = [
  { rule: "1 beyond 3 sigma", beyond: 3, least: 1, among: 1 },
  { rule: "2 of 3 beyond 2 sigma", beyond: 2, least: 2, among: 3 },
  { rule: "4 of 5 beyond 1 sigma", beyond: 1, least: 4, among: 5 },
  { rule: "8 in a row on one side", beyond: 0, least: 8, among: 8 },
];

/**
 * Readings that break one of the four published run rules. A reading breaks a rule when it lies beyond the rule's line itself, and with
 * those just before it makes up the number: so a long run breaks its rule with each reading from the eighth on. A reading on a line is
 * not beyond it. Normal readings that nothing disturbs break some rule once in about 92: a break is a question, not a finding.
 * @param readings - in the order in which they were taken, finite
 * @param limits - centre line and sigma, as of `individualsChart`; sigma above 0
 * @returns breaks, by reading and then in the order of the rules
 * @throws RangeError for a reading that is no number, or limits that are none
 * @see Western Electric Company, Statistical Quality Control Handbook, 1956 (from memory); C. W. Champ & W. H. Woodall, Technometrics 29 (1987) 393-399, for the false alarms (from memory, simulated in our tests)
 * @example runRules(Float64Array.of(0, 3.2), { centre: 0, sigma: 1 })[0]; // { rule: "1 beyond 3 sigma", at: 1, from: 1, side: "above" }
 */
export function runRules(readings: Float64Array, limits: { centre: number; sigma: number }): RuleBreak[] {
  const { centre, sigma } = limits;
  if (!(Number.isFinite(centre) && sigma > 0 && sigma < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot look for runs: found centre ${centre} and sigma ${sigma}`);
  }
  const wrong = readings.findIndex((reading) => !Number.isFinite(reading));
  if (wrong >= 0) {
    throw new RangeError(`Cannot look for runs: reading ${wrong} (counted from 0) is ${readings[wrong]}`);
  }
  const off = readings.map((reading) => (reading - centre) / sigma);
  return Array.from(off.keys()).flatMap((at) => breaksAt(off, at));
}

/** @param off - readings less the centre line, in sigma */
function breaksAt(off: Float64Array, at: number): RuleBreak[] {
  const sign = Math.sign(off[at]!);
  return RULES.flatMap(({ rule, beyond, least, among }) => {
    const counted = recent(at, among).filter((other) => sign * off[other]! > beyond);
    if (counted.length < least || counted.at(-1) !== at) return [];
    return [{ rule, at, from: counted[0]!, side: sign > 0 ? "above" : "below" }];
  });
}

/** Up to and with `at`, those that there are. */
function recent(at: number, among: number): number[] {
  const first = Math.max(0, at - among + 1);
  return Array.from({ length: at - first + 1 }, (_, back) => first + back);
}
