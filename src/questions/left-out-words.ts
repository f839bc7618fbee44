const WORDS: Record<string, string> = {
  start_unknown: "the start is not known",
  slot_on_no_card: "no card of the fleet ever names the slot",
  replacement_not_recorded: "a component failed and no card says that a new one was fitted",
  no_follow_up: "the unit is neither on the list of units in service nor read",
  before_records_begin: "the end lies before the records begin",
  zero_or_negative_length: "start and end leave no length",
  meter_changed_unread: "the meter was changed and the last reading of the old one is not on record",
  meter_went_back: "the meter went back",
  meter_stuck: "the meter stood still in service",
  impossible_rate: "the meter ran more than 24 hours a day",
  no_meter_at_start: "no meter reading is on record at the start",
  no_meter: "the unit has no meter reading at all",
  rate_unknown: "too few readings say how many hours a day the unit runs",
};

/** Why lives can't be used in a clock, as the end of a sentence. */
export function leftOutWords(reason: string): string {
  return WORDS[reason] ?? reason.replaceAll("_", " ");
}
