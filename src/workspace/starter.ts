/** What "framelife spares" asks of a configuration, as examples to be edited; for every new one. */
export const SPARES_SETTINGS = `# For "framelife spares": the parts that a slot takes when it is renewed, and under "frame" what every opened frame takes, whatever was found.
# A slot that is not named takes the part number on its cards. models and fleets say for which alone.
# kits:
#   drive_end_bearings: [{ part: "your part number" }]
#   drive_end_seals: [{ part: "your part number" }, { part: "an O-ring", quantity: 2 }]
#   frame: [{ part: "a gasket set", models: ["a frame type"] }, { part: "a shim set" }]

# How the shelf is kept: the chance of no shortage before the next order arrives, days between looks at the shelf, and the lead time of
# parts that are on no parts list (pipelines of record: part and record: stock bring prices, lead times and counts).
# stock_policy: { service: 0.95, review_days: 30, lead_time_days: 60 }

# What a rebuild costs when it is planned, and after a failure with all that it brings; what holding a part for a year costs, as a share of
# its price; and what a day costs on which a frame waits for a part.
# costs: { planned_rebuild: 2000, unplanned_rebuild: 6000, holding: 0.2, downtime_a_day: 500, currency: EUR, source: "whose figures, of when" }

`;

/** The files of a new workspace, by path: a configuration and one pipeline, both to be edited; every line says what it is for. */
export const starterFiles: Record<string, string> = {
  "framelife.yaml": `# What Framelife should know of this shop. Check it with: framelife ingest
title: My pump shop

# Day up to which events are looked at. Left out: the latest date in the records.
# as_of: 2025-12-31

# What time is counted in: hours (meter) or days (calendar).
clock: hours

# Units that answers are shown in.
display: { length: thou, temperature: F }

# Units run and judged together. records_begin: the first day from which every rebuild is on record.
fleets:
  - { name: main, title: Main plant }

# Places for components inside a frame. kind: bearing, seal or other.
slots:
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
  pump_end_bearing: { title: Pump-end bearing, quantity: 1, kind: bearing }
  drive_end_seals: { title: Drive-end seals, quantity: 1, kind: seal }
  pump_end_seals: { title: Pump-end seals, quantity: 1, kind: seal }

# The interval that a measured value should lie in. Put your pump maker's figures here, and where they stand.
windows:
  end_play: { low: 2, high: 7, unit: thou, source: "common practice, no source; replace by the maker's manual" }

# Edges between the bands by which builds are compared, in rising order. The unit is yours: thou, mm, in or um.
bands:
  end_play: { edges: [2, 3, 4, 5, 6, 7], unit: thou }

# What shims do to the end play: those between spigot and race take it up (take_up), those under the flange of the bracket add to it (add).
shims: take_up

# How far readings stray by the gauge alone: its standard deviation, as "framelife gauge read" finds it.
# gauges:
#   end_play: { sd: 0.3, unit: thou, source: "framelife gauge read, month and year" }

# For "framelife life --rating": the catalogue life of the bearings (ISO 281) beside the life seen. Ratings in kN of one bearing, loads in
# kN on the bearing or the pair, viscosity in mm2/s at running temperature. Every figure is of the source named beside it.
# bearings:
#   drive_end_bearings:
#     kind: angular-contact ball
#     dynamic_rating: 60
#     contact_angle: 40
#     radial_load: 3
#     axial_load: 4
#     source: "bearing maker's catalogue, page; pump maker's data sheet, line"

${SPARES_SETTINGS}# Conditions found that count as failed: failed, or failed and worn.
failed_when: [failed]

# A failure found in a frame that was opened for something else began unnoticed. true: it is taken to lie somewhere between the
# last inspection of that slot and the day it was found, and survival curves are refused where there are such lives.
hidden_until_opened: false

# Back for failure within so many days counts as a comeback.
comeback_days: 90
quarantine_limit: 0.05

# Files in the folder pipelines/, without .yaml.
pipelines: [cards]
`,
  "pipelines/cards.yaml": `# How one export becomes records: one row a job card, with columns for each slot.
title: Job cards
record: rebuild
files: exports/cards*.csv
format: csv
delimiter: ","
decimal_mark: "."
layout: wide
blank: ["-", "n/a"]

# Our field: where it stands in the export, and how its text is read. Dates in strptime letters.
fields:
  card: { column: Card, required: true }
  fleet: { value: main }
  unit: { column: Frame, required: true }
  position: { column: Position }
  model: { column: Model }
  removed_on: { column: Removed, dates: ["%Y-%m-%d"] }
  installed_on: { column: Installed, dates: ["%Y-%m-%d"] }
  hours_removed: { column: Meter, unit: h }
  reason:
    column: Reason
    words: { failed: failure, planned: planned, "while open": opportunity, changed: modification, "": unknown }
  end_play: { column: End play, unit: thou }
  lube: { column: Lube, words: { oil: oil_bath, grease: grease } }

# Per slot: was a new one fitted, and how was the old one found?
slots:
  drive_end_bearings:
    fitted: { column: Drive-end bearings new, words: { "yes": "yes", "no": "no" } }
    condition: { column: Drive-end bearings found, words: { failed: failed, worn: worn, good: serviceable } }
  pump_end_bearing:
    fitted: { column: Pump-end bearing new, words: { "yes": "yes", "no": "no" } }
    condition: { column: Pump-end bearing found, words: { failed: failed, worn: worn, good: serviceable } }
  drive_end_seals:
    fitted: { column: Drive-end seals new, words: { "yes": "yes", "no": "no" } }
    condition: { column: Drive-end seals found, words: { failed: failed, worn: worn, good: serviceable } }
  pump_end_seals:
    fitted: { column: Pump-end seals new, words: { "yes": "yes", "no": "no" } }
    condition: { column: Pump-end seals found, words: { failed: failed, worn: worn, good: serviceable } }
`,
};
