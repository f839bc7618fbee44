-- pipelines/sql/00_schema.sql
-- nothing -> the empty store, version 4, but for the view of 04_current_card. Run once, in a new file; older stores come to it by steps of
-- their own (store/migrate).
-- Units: lengths mm, temperatures deg C, meters h, speeds r/min, forces kN, lead times d. `file_id`, `row` say where a record was read;
-- `row` counts the records of the export from 1, its header being 1 where it has one: the number that a spreadsheet shows beside it.
create schema landing;
create schema records;
create schema quarantine;
create schema results;

create table landing.version (schema_version integer not null);
insert into landing.version values (4);

-- One export as it was read. The bytes lie compressed beside the store, named by `sha256`. A changed file is another one, in the same place.
create table landing.file (
  file_id integer primary key,
  path varchar not null,             -- relative to the workspace
  sheet varchar,                     -- of a workbook
  sha256 varchar not null,
  bytes bigint not null,
  pipeline varchar not null,
  pipeline_sha256 varchar not null,  -- of the pipeline file and what it depends on: a changed mapping is read anew
  record varchar not null,           -- rebuild, unit, reading, retirement, stock, part, bearing
  layout varchar not null,           -- long, measured: the rows of a card are one version of it; wide: each row is one
  reading varchar not null,          -- JSON: how the kept bytes are opened again
  header varchar[],                  -- names of its columns
  rows_read integer not null,        -- all but the header, empty lines included
  state varchar not null,            -- there; replaced: other bytes came in its place; gone: no pipeline finds it any more
  pipeline_place integer not null,   -- the order of versions: place of the pipeline in the configuration, of the pattern in the
  pattern_place integer not null,    -- pipeline, then path, place of the sheet, and arrival
  sheet_place integer not null,
  loaded_at timestamp not null
);

-- Later files come later whatever the order in which they were read.
create view landing.file_order as
select file_id, row_number() over (order by pipeline_place, pattern_place, path, sheet_place, file_id)::integer as rank from landing.file;

-- Rows that did not become records. `outcome` is the first that applies.
create table landing.set_aside (
  file_id integer not null,
  row integer not null,
  outcome varchar not null,          -- not_data, quarantined; duplicate only of rows read before version 2
  because varchar not null,          -- blank row, total, repeated header; the rules
  raw varchar not null               -- the source row as JSON, header -> cell
);

-- Every value of a record that is not what the cell says, by which rule: a fix can be taken back from here.
create table landing.change (
  file_id integer not null,
  row integer not null,
  field varchar not null,
  before varchar,                    -- NULL: the cell is blank
  after varchar,                     -- NULL: nothing is recorded
  rule varchar not null,
  because varchar                    -- the line of the corrections file, who says so
);

-- What became of the corrections that are meant for a row. Key: file_id, row, line; of measured values several.
create table landing.corrected (
  file_id integer not null,
  row integer not null,
  line integer not null,             -- of the corrections file
  outcome varchar not null           -- applied; settled: the new value stands there already; stale: neither it nor the old one does
);

-- Every refusal and every doubt. `row` is NULL where it is of a whole column.
create table quarantine.finding (
  file_id integer not null,
  row integer,
  field varchar not null,
  value varchar,
  rule varchar not null,
  severity varchar not null,         -- quarantine: the row is set aside; refuse: the value is left out; warn: it stands
  message varchar not null,
  across boolean not null            -- found by looking over all records; made anew after each reading
);

-- With what the checks over all records were last made: rules, limits; NULL when they are to be made anew.
create table landing.checked (made_with varchar);
insert into landing.checked values (null);

-- Numbers of units that are nearly another's of their fleet, for a person to say whether they are the same unit. Key: fleet, unit.
create table records.near_miss (
  fleet varchar not null,
  unit varchar not null,             -- the number in doubt
  meant varchar not null,            -- the unit that it may be
  because varchar not null,
  file_id integer not null,          -- where it stands first
  row integer not null
);

-- Records. One row per source row that is data and not refused whole. `content` is a hash of the mapped text, to tell a changed record from
-- the same one. `standing`: current; superseded by a later version; duplicate: says what the version before it says. `barred`: a check
-- over all records sets the record aside. Views show the current ones that are not barred.

-- The card's own fields. Long cards give several rows a card; measured ones a row per value.
create table records.rebuild_row (
  file_id integer not null,
  row integer not null,
  part varchar not null,             -- card; measured: values that belong to a card told elsewhere
  card varchar not null,
  fleet varchar not null,
  unit varchar,                      -- may be blank on a measured row
  position varchar,
  site varchar,
  model varchar,
  removed_on date,                   -- out of service
  received_on date,                  -- in the shop
  built_on date,                     -- out of the shop
  installed_on date,                 -- back in service
  revised_on date,                   -- the card as it was on this day: the latest is current
  hours_removed double,              -- meter when taken out
  hours_installed double,            -- meter when put back, where it differs
  reason varchar,                    -- failure, planned, opportunity, modification, unknown
  failed_slot varchar,               -- the slot that the reason names
  lube varchar,
  seal_arrangement varchar,
  end_play_mm double,                -- as built
  end_play_found_mm double,          -- as found: an outcome, never a predictor
  shims_mm double,                   -- the whole pack
  race_depth_mm double,              -- race of the end bearing below the face of the frame
  spigot_height_mm double,           -- what the bracket's spigot goes in
  end_play_unshimmed_mm double,      -- as read without shims, in place of depth and height
  ring_temperature_c double,
  speed_rpm double,
  fitter varchar,                    -- a code
  remarks varchar,
  content uhugeint not null,
  standing varchar not null,
  barred boolean not null
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
  standing varchar not null,
  barred boolean not null
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
  standing varchar not null,
  barred boolean not null
);

create table records.reading_row (
  file_id integer not null,
  row integer not null,
  fleet varchar not null,
  unit varchar not null,
  read_on date not null,
  hours double not null,
  meter_changed boolean,             -- this is the first reading of a new meter
  old_meter_hours double,            -- last reading of the old one
  content uhugeint not null,
  standing varchar not null,
  barred boolean not null
);

create table records.retirement_row (
  file_id integer not null,
  row integer not null,
  fleet varchar not null,
  unit varchar not null,
  retired_on date not null,
  cause varchar,
  content uhugeint not null,
  standing varchar not null,
  barred boolean not null
);

-- What lies on the shelf, by count.
create table records.stock_row (
  file_id integer not null,
  row integer not null,
  part varchar not null,
  place varchar,
  counted_on date,
  on_hand double not null,           -- pieces
  on_order double,
  due_on date,                       -- of what is on order
  content uhugeint not null,
  standing varchar not null,
  barred boolean not null
);

create table records.part_row (
  file_id integer not null,
  row integer not null,
  part varchar not null,
  title varchar,
  slot varchar,                      -- where it goes
  price double,                      -- a piece, in `currency`
  currency varchar,
  lead_time_days double,             -- usual
  lead_time_low_days double,         -- shortest and longest seen or quoted
  lead_time_high_days double,
  pack_size double,                  -- pieces
  minimum_order double,
  replaced_by varchar,               -- part number that takes its place
  content uhugeint not null,
  standing varchar not null,
  barred boolean not null
);

-- Catalogue data of a bearing part, by ISO 281's words.
create table records.bearing_row (
  file_id integer not null,
  row integer not null,
  part varchar not null,
  kind varchar,                      -- ball, roller
  bore_mm double,
  outside_diameter_mm double,
  width_mm double,
  dynamic_rating_kn double,          -- C
  static_rating_kn double,           -- C0
  fatigue_limit_kn double,           -- Cu
  contact_angle_deg double,
  content uhugeint not null,
  standing varchar not null,
  barred boolean not null
);

-- 128 bits that stand for a text within one run: hash() may give others in another version of the engine, and is never stored.
create macro records.key_of(text) as hash(text)::uhugeint * 18446744073709551616 + hash(text || '.');

-- What tells the versions of a record apart, for every row of every kind: its key, hashed, and the rows of one version together.
create view records.version as
select 'rebuild' as record, file_id, row, records.key_of(concat_ws(chr(31), part, fleet, card)) as key, content, standing, revised_on
from records.rebuild_row
union all
select 'unit', file_id, row, records.key_of(concat_ws(chr(31), fleet, unit)), content, standing, listed_on from records.unit_row
union all
select 'reading', file_id, row, records.key_of(concat_ws(chr(31), fleet, unit, read_on::varchar)), content, standing, null from records.reading_row
union all
select 'retirement', file_id, row, records.key_of(concat_ws(chr(31), fleet, unit)), content, standing, null from records.retirement_row
union all
select 'stock', file_id, row, records.key_of(concat_ws(chr(31), part, coalesce(place, ''), counted_on::varchar)), content, standing, null from records.stock_row
union all
select 'part', file_id, row, records.key_of(part), content, standing, null from records.part_row
union all
select 'bearing', file_id, row, records.key_of(part), content, standing, null from records.bearing_row;

-- What the questions read: the current version of every record. That of cards stands in 04_current_card.
create view records.fitting as select * exclude (standing, barred) from records.fitting_row where standing = 'current' and not barred;
create view records.unit as select * exclude (standing, barred, content) from records.unit_row where standing = 'current' and not barred;
create view records.reading as
select * exclude (standing, barred, content) replace (coalesce(meter_changed, false) as meter_changed)
from records.reading_row where standing = 'current' and not barred;
create view records.retirement as select * exclude (standing, barred, content) from records.retirement_row where standing = 'current' and not barred;
create view records.stock as select * exclude (standing, barred, content) from records.stock_row where standing = 'current' and not barred;
create view records.part as select * exclude (standing, barred, content) from records.part_row where standing = 'current' and not barred;
create view records.bearing as select * exclude (standing, barred, content) from records.bearing_row where standing = 'current' and not barred;

-- Where each row that is data and not refused whole stands.
create view records.standing as
select file_id, row, standing, barred from records.rebuild_row union all
select file_id, row, standing, barred from records.unit_row union all
select file_id, row, standing, barred from records.reading_row union all
select file_id, row, standing, barred from records.retirement_row union all
select file_id, row, standing, barred from records.stock_row union all
select file_id, row, standing, barred from records.part_row union all
select file_id, row, standing, barred from records.bearing_row;

-- What the last run answered, one row per command and fleet; the pages were made from the same objects.
create table results.answer (
  command varchar not null,
  fleet varchar not null,
  as_of date not null,
  sentence varchar not null,
  answer json not null,
  primary key (command, fleet)
);

-- Where each row of each file ended: rows_read is the sum of the six that follow it. refused_values and warnings count in the rows that stand.
create view landing.account as
with aside as (
  select file_id, count(*) filter (outcome = 'not_data') as not_data, count(*) filter (outcome = 'quarantined') as quarantined,
         count(*) filter (outcome = 'duplicate') as old_duplicate
  from landing.set_aside group by file_id
),
changed as (
  select distinct file_id, row from landing.change
),
stands as (
  select s.file_id,
         count(*) filter (barred) as barred,
         count(*) filter (standing = 'duplicate' and not barred) as duplicate,
         count(*) filter (standing = 'superseded' and not barred) as superseded,
         count(*) filter (standing = 'current' and not barred and c.row is not null) as corrected,
         count(*) filter (standing = 'current' and not barred and c.row is null) as accepted
  from records.standing s left join changed c using (file_id, row) group by s.file_id
),
found as (
  select q.file_id, count(*) filter (severity = 'refuse') as refused_values, count(*) filter (severity = 'warn') as warnings
  from quarantine.finding q left join records.standing s using (file_id, row)
  where q.row is null or (s.standing = 'current' and not s.barred)
  group by q.file_id
)
select file_id, path, sheet, pipeline, record, state, rows_read,
       coalesce(not_data, 0)::integer as not_data, (coalesce(quarantined, 0) + coalesce(barred, 0))::integer as quarantined,
       (coalesce(duplicate, 0) + coalesce(old_duplicate, 0))::integer as duplicate, coalesce(superseded, 0)::integer as superseded,
       coalesce(corrected, 0)::integer as corrected, coalesce(accepted, 0)::integer as accepted,
       coalesce(refused_values, 0)::integer as refused_values, coalesce(warnings, 0)::integer as warnings
from landing.file left join aside using (file_id) left join stands using (file_id) left join found using (file_id);
