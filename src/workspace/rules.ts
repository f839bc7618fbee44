/** What a check does: set the row aside, leave the value out, change it and keep what it was, or keep it and say so. */
export type Severity = "quarantine" | "refuse" | "fix" | "warn";

/** A check by its name: what it finds, and what is done unless the workspace says otherwise under `rules`. */
export type Rule = {
  title: string;
  /** What it looks at: one cell, one row, a whole column of a file, all records. */
  looksAt: "cell" | "row" | "column" | "records";
  severity: Severity;
  /** What the workspace may choose. */
  may: readonly Severity[];
};

const cell = (title: string, severity: Severity, ...others: Severity[]): Rule => ({
  title,
  looksAt: "cell",
  severity,
  may: [severity, ...others],
});
const row = (title: string, severity: Severity, ...others: Severity[]): Rule => ({
  ...cell(title, severity, ...others),
  looksAt: "row",
});
const column = (title: string, severity: Severity, ...others: Severity[]): Rule => ({
  ...cell(title, severity, ...others),
  looksAt: "column",
});
const records = (title: string, severity: Severity, ...others: Severity[]): Rule => ({
  ...cell(title, severity, ...others),
  looksAt: "records",
});

/**
 * Every check of the exports. A value that would change a conclusion is left out, or its row; one that is usable but doubtful is kept
 * with a warning; a change is made only where it is unique and can be taken back. Common practice, no source.
 */
export const RULES = {
  missing: row("a row lacks what makes it a record", "quarantine"),
  broken_quotes: row("text follows a closing quote", "quarantine"),
  mixed_nesting: row("a JSON record nests a value that is asked for plain, or the other way round", "quarantine"),
  too_many_cells: row("a row has more cells than the header", "quarantine"),
  date_order: row("dates of one card in an order that can't be", "quarantine", "warn"),
  error_cell: cell("a spreadsheet's error in place of a value", "refuse", "quarantine"),
  not_a_date: cell("a text that is no day of the patterns declared", "refuse", "quarantine"),
  impossible_date: cell("a day before 1950", "refuse", "quarantine"),
  future_date: cell("a day after tomorrow", "refuse", "quarantine"),
  serial_date: cell("a spreadsheet's day number in place of a date", "fix", "refuse", "quarantine"),
  not_a_number: cell("a text that is no number", "refuse", "quarantine"),
  own_unit: cell("a number with a unit of its own behind it", "fix", "refuse", "quarantine"),
  out_of_range: cell("a value outside what its gauge can read", "refuse", "quarantine", "warn"),
  negative_meter: cell("a meter below 0", "quarantine", "refuse"),
  unknown_word: cell("a word that the pipeline does not know", "refuse", "quarantine"),
  unknown_fleet: cell("a fleet that the workspace does not know", "quarantine"),
  unknown_slot: cell("a slot that the pipeline does not know", "refuse", "quarantine"),
  unknown_measure: row("a measured value of a kind that the pipeline does not know", "quarantine"),
  lost_digits: cell(
    "a number of a unit, card or part that a spreadsheet has rounded (1.23E+11)",
    "quarantine",
    "refuse",
    "warn",
  ),
  date_like_name: cell(
    "a number of a unit or card that a spreadsheet may have turned into a date",
    "warn",
    "quarantine",
  ),
  line_break: cell("a line break inside a name or word", "fix", "warn"),
  tidied: cell("a text changed as the pipeline's tidy says", "fix"),
  ambiguous_date: column(
    "day and month can't be told apart, and the column has both orders",
    "quarantine",
    "refuse",
    "warn",
  ),
  absent_field: column("a field that no record of a JSON export has", "warn"),
  suspect_day_month: column("no day of a column lies past the 12th: day and month may be swapped", "warn"),
  unit_mixup: column("a value that fits its column only in another unit", "refuse", "quarantine", "fix", "warn"),
  alias: cell("a unit's number replaced as the aliases file says", "fix"),
  correction: cell("a value replaced as the corrections file says", "fix"),
  stale_correction: cell("a correction whose old value does not stand there any more", "warn"),
  same_day_card: records("two cards of one unit for the same day", "quarantine", "warn"),
  card_of_two_units: records("one card number on two units", "warn", "quarantine"),
  card_used_again: records("one card number for visits of a unit at different times", "warn", "quarantine"),
  told_twice: records("a record that stands twice in one file, in different words", "warn", "quarantine"),
  contradicting_rows: records("rows of one card that contradict each other", "warn", "quarantine"),
  overlap: records("a unit taken out again before it went back", "warn", "quarantine"),
  before_commissioning: records("a record dated before the unit was first in service", "warn", "quarantine"),
  after_retirement: records("a record dated after the unit was taken out of use", "warn", "quarantine"),
  meter_backwards: records("a meter that shows less than before", "warn", "quarantine"),
  impossible_rate: records("a meter that ran more than 24 hours a day", "warn", "quarantine"),
  meter_rollover: records("a meter that went over its last figure and began at 0 again", "warn"),
  meter_changed: records("a meter replaced by another", "warn"),
  meter_stuck: records("a meter that stood still for over 60 days in service", "warn"),
  failed_not_replaced: records("a component found failed and not replaced", "warn", "quarantine"),
  replaced_no_condition: records("a component replaced without a word on how it was found", "warn"),
  measure_without_card: records("measured values of a card that is not there", "warn"),
  vanished_row: records("a record that the newer export of the same file lacks", "warn"),
  negative_stock: records("less than nothing on the shelf", "warn", "quarantine"),
  near_miss: records("a unit's number that is nearly another's", "warn"),
} as const satisfies Record<string, Rule>;

export type RuleName = keyof typeof RULES;

/** What is done by rule: the workspace's choice, else the rule's own. */
export type Severities = Record<RuleName, Severity>;

/** The rules' severities with the workspace's choices in their place. */
export function severitiesOf(chosen: Partial<Record<string, Severity>>): Severities {
  const pairs = Object.entries(RULES).map(([name, rule]) => [name, chosen[name] ?? rule.severity]);
  return Object.fromEntries(pairs) as Severities;
}
