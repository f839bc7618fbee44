import { SPARES_SETTINGS } from "../../workspace/starter.ts";
import { plainLine } from "./shown.ts";
import { SLOT_TITLES } from "./words/slot-words.ts";
import { commonEndPlay, type Settings } from "./workspace-settings.ts";
import { yamlList, yamlScalar } from "./yaml-text.ts";

/** The text of a configuration, every line with what it is for, what was guessed with its evidence. */
export function writeConfiguration(settings: Settings, pipelines: string[]): string {
  const { title, clock, clockEvidence, length, temperature, displayEvidence } = settings;
  const { bands, low, high } = commonEndPlay(length);
  return `# What Framelife should know of this shop, drafted from its exports. Look at each "confirm" line, correct what is wrong, and take the
# line away.
title: ${yamlScalar(title)}

# Day up to which events are looked at. Left out: the latest date in the records.
# as_of: 2025-12-31

# What time is counted in: hours (meter) or days (calendar).
# evidence: ${plainLine(clockEvidence)}
clock: ${clock}

# Units that answers are shown in.
# evidence: ${plainLine(displayEvidence)}
display: { length: ${length}, temperature: ${temperature} }

# Units run and judged together. records_begin: the first day from which every rebuild is on record.
fleets:
${settings.fleets.flatMap((fleet) => fleetLines(fleet, settings)).join("\n")}

# Places for components inside a frame. A pair that is bought, fitted and judged as one counts as one life of quantity 2.
slots:
${settings.slots.flatMap((slot) => slotLines(slot, settings)).join("\n")}

# The interval that a measured value should lie in. Put your pump maker's figures here, and where they stand.
windows:
  end_play: { low: ${low}, high: ${high}, unit: thou, source: "common practice, no source; replace by the maker's manual" }
# Edges between the bands by which builds are compared, in ${length}.
bands:
  end_play: ${yamlList(bands)}

# What shims do to the end play: those between spigot and race take it up (take_up), those under the flange of the bracket add to it (add).
shims: take_up

# How far readings stray by the gauge alone: its standard deviation, as "framelife gauge read" finds it.
# gauges:
#   end_play: { sd: 0.3, unit: thou, source: "framelife gauge read, month and year" }

${SPARES_SETTINGS}# Conditions found that count as failed: failed, or failed and worn.
failed_when: [failed]

# Back for failure within so many days counts as a comeback.
comeback_days: 90

# A file with more than this share of its rows refused stops the run with status 3.
quarantine_limit: 0.05

# Files in the folder pipelines/, without .yaml, in the order in which they are read.
pipelines:
${pipelines.map((name) => `  - ${yamlScalar(name)}`).join("\n")}
`;
}

function fleetLines({ name, title, recordsBegin }: Settings["fleets"][number], { questions }: Settings): string[] {
  const begin = recordsBegin === undefined ? "" : `, records_begin: ${recordsBegin}`;
  return [
    ...confirms(questions, `${name}.records_begin`),
    `  - { name: ${yamlScalar(name)}, title: ${yamlScalar(title)}${begin} }`,
  ];
}

function slotLines(slot: string, { ownSlots, questions }: Settings): string[] {
  const own = ownSlots.find(({ name }) => name === slot)?.title ?? slot;
  const { title, quantity, kind } = SLOT_TITLES[slot] ?? { title: own, quantity: 1, kind: "other" };
  return [
    ...confirms(questions, `${slot}.slot`),
    `  ${slot}: { title: ${yamlScalar(title)}, quantity: ${quantity}, kind: ${kind} }`,
  ];
}

function confirms(questions: Settings["questions"], about: string): string[] {
  return questions.filter(({ id }) => id === about).map(({ text }) => `  # confirm: ${plainLine(text)}`);
}
