-- The schema as version 1 of the store had it, to be brought forward in tests.
-- Units: lengths mm, temperatures deg C, meters h, speeds r/min. `file_id`, `row` say where a record was read; `row` counts the
-- records of the export from 1, its header being 1 where it has one: the number that a spreadsheet shows beside it.
create schema landing;
create schema records;
create schema quarantine;
create schema results;

create table landing.version (schema_version integer not null);
insert into landing.version values (1);

-- One export as it was read. The bytes lie compressed beside the store, named by `sha256`.
create table landing.file (
  file_id integer primary key,
  path varchar not null,             -- relative to the workspace
  sha256 varchar not null,
  bytes bigint not null,
  pipeline varchar not null,
  pipeline_sha256 varchar not null,  -- of the pipeline file: a changed mapping is read anew
  record varchar not null,           -- rebuild, unit, reading, retirement
  layout varchar not null,           -- long: the rows of a card are one version of it; wide: each row is one
  encoding varchar not null,         -- how the kept bytes are read back
  delimiter varchar not null,
  rows_read integer not null,        -- all but the header, empty lines included
  loaded_at timestamp not null
);

-- Rows that did not become records, or no longer count as one. `outcome` is the first that applies, in this order.
create table landing.set_aside (
  file_id integer not null,
  row integer not null,
  outcome varchar not null check (outcome in ('not_data', 'quarantined', 'duplicate', 'superseded')),
  because varchar not null,          -- blank row, total, repeated header; the rules; the row that stands in its place
  raw varchar not null               -- the source row as JSON, header -> cell
);

-- Accepted rows of which a value was changed by a declared rule.
create table landing.correction (
  file_id integer not null,
  row integer not null,
  field varchar not null,
  before varchar not null,
  after varchar not null,
  rule varchar not null
);

-- Every refusal. `whole_row`: the row is quarantined; otherwise the value alone is left out and the row moves nowhere.
create table quarantine.refusal (
  file_id integer not null,
  row integer not null,
  field varchar not null,
  value varchar,
  rule varchar not null,
  message varchar not null,
  whole_row boolean not null
);

-- One row per accepted or superseded source row of a rebuild export: the card's own fields. Long cards give several rows a card.
create table records.rebuild_row (
  file_id integer not null,
  row integer not null,
  card varchar not null,
  fleet varchar not null,
  unit varchar not null,
  position varchar,
  site varchar,
  model varchar,
  removed_on date,                   -- out of service
  received_on date,                  -- in the shop
  built_on date,                     -- out of the shop
  installed_on date,                 -- back in service
  hours_removed double,              -- meter when taken out
  hours_installed double,            -- meter when put back, where it differs
  reason varchar not null,           -- failure, planned, opportunity, modification, unknown
  failed_slot varchar,               -- the slot that the reason names
  lube varchar,
  seal_arrangement varchar,
  end_play_mm double,                -- as built
  end_play_found_mm double,          -- as found: an outcome, never a predictor
  shims_mm double,
  ring_temperature_c double,
  speed_rpm double,
  fitter varchar,                    -- a code
  remarks varchar,
  content uhugeint not null,          -- of the mapped text, to tell a changed card from the same one
  superseded boolean not null
);

-- One row per source row and slot that says anything of the slot.
create table records.fitting_row (
  file_id integer not null,
  row integer not null,
  fleet varchar not null,
  card varchar not null,
  slot varchar not null,
  fitted boolean,                    -- a new component was put in
  condition varchar,                 -- failed, worn, serviceable, not_inspected: of the component that came out
  damage_mode varchar,               -- of the component that came out; ISO 15243 classes for bearings
  part varchar,                      -- fitted
  batch varchar,                     -- fitted
  superseded boolean not null
);

create table records.unit_row (
  file_id integer not null,
  row integer not null,
  fleet varchar not null,
  unit varchar not null,
  model varchar,
  site varchar,
  position varchar,
  speed_rpm double,
  commissioned_on date,
  last_rebuilt_on date,              -- known from outside the records
  listed_on date,                    -- the day for which the list says that the unit is in service
  content uhugeint not null,
  superseded boolean not null
);

create table records.reading_row (
  file_id integer not null,
  row integer not null,
  fleet varchar not null,
  unit varchar not null,
  read_on date not null,
  hours double not null,
  meter_changed boolean not null,    -- this is the first reading of a new meter
  old_meter_hours double,            -- last reading of the old one
  content uhugeint not null,
  superseded boolean not null
);

create table records.retirement_row (
  file_id integer not null,
  row integer not null,
  fleet varchar not null,
  unit varchar not null,
  retired_on date not null,
  cause varchar,
  content uhugeint not null,
  superseded boolean not null
);

-- What the questions read: the current version of every record. A card of several rows takes each field from its first row that has it.
create view records.rebuild as
select fleet, card,
       min(file_id) as file_id, min(row) as row,
       any_value(unit order by row) as unit, any_value(position order by row) as position,
       any_value(site order by row) as site, any_value(model order by row) as model,
       any_value(removed_on order by row) as removed_on, any_value(received_on order by row) as received_on,
       any_value(built_on order by row) as built_on, any_value(installed_on order by row) as installed_on,
       any_value(hours_removed order by row) as hours_removed, any_value(hours_installed order by row) as hours_installed,
       any_value(reason order by row) as reason, any_value(failed_slot order by row) as failed_slot,
       any_value(lube order by row) as lube, any_value(seal_arrangement order by row) as seal_arrangement,
       any_value(end_play_mm order by row) as end_play_mm, any_value(end_play_found_mm order by row) as end_play_found_mm,
       any_value(shims_mm order by row) as shims_mm, any_value(ring_temperature_c order by row) as ring_temperature_c,
       any_value(speed_rpm order by row) as speed_rpm, any_value(fitter order by row) as fitter,
       any_value(remarks order by row) as remarks
from records.rebuild_row where not superseded group by fleet, card;

create view records.fitting as select * exclude (superseded) from records.fitting_row where not superseded;
create view records.unit as select * exclude (superseded, content) from records.unit_row where not superseded;
create view records.reading as select * exclude (superseded, content) from records.reading_row where not superseded;
create view records.retirement as select * exclude (superseded, content) from records.retirement_row where not superseded;

-- What the last run answered, one row per command and fleet; the pages were made from the same objects.
create table results.answer (
  command varchar not null,
  fleet varchar not null,
  as_of date not null,
  sentence varchar not null,
  answer json not null,
  primary key (command, fleet)
);

-- Where each row of each file ended: rows_read is the sum of the six that follow it. `accepted` is counted in the records themselves.
create view landing.account as
with aside as (
  select file_id,
         count(*) filter (outcome = 'not_data') as not_data, count(*) filter (outcome = 'quarantined') as quarantined,
         count(*) filter (outcome = 'duplicate') as duplicate, count(*) filter (outcome = 'superseded') as superseded
  from landing.set_aside group by file_id
),
corrected as (
  select file_id, count(distinct row) as corrected from landing.correction
  anti join landing.set_aside using (file_id, row) group by file_id
),
refused as (
  select file_id, count(*) as refused_values from quarantine.refusal
  anti join landing.set_aside using (file_id, row) where not whole_row group by file_id
),
current_row as (
  select file_id, count(*) as current_rows from (
    select file_id from records.rebuild_row where not superseded union all
    select file_id from records.unit_row where not superseded union all
    select file_id from records.reading_row where not superseded union all
    select file_id from records.retirement_row where not superseded
  ) group by file_id
)
select file_id, path, pipeline, record, rows_read,
       coalesce(not_data, 0)::integer as not_data, coalesce(quarantined, 0)::integer as quarantined,
       coalesce(duplicate, 0)::integer as duplicate, coalesce(superseded, 0)::integer as superseded,
       coalesce(corrected, 0)::integer as corrected,
       (coalesce(current_rows, 0) - coalesce(corrected, 0))::integer as accepted,
       coalesce(refused_values, 0)::integer as refused_values
from landing.file left join aside using (file_id) left join corrected using (file_id)
left join refused using (file_id) left join current_row using (file_id);
