-- pipelines/sql/29_checked.sql
-- records.*, landing.file -> what the checks over all records look at, in numbers: texts are looked up for what they find.
-- seen_file: what messages call each file, and its place in their order. Key: file_id. Rows: those of landing.file.
-- checked_unit: a number for each unit. Key: unit_id; fleet, unit. Rows: the units of any current record.
-- several_card: the current cards of several rows. Key: fleet, card. Of a wide file's rows for one card a single one is current.
-- counted_row: what these say as a whole, as records.rebuild has it. Key: fleet, card. Rows: those of them that tell their unit, and have
-- more than measured values.
-- dated_card: the current cards with the day on which the unit left service, as 30_card takes it. Key: file_id, row.
--   back_on is the day it went back, null where the card says none that is possible.
-- Rows: the current cards with any date; those that a check sets aside are taken out as it does.
-- dated_reading: the current readings, likewise. Key: file_id, row.
-- same_day_card: those of dated_card that came out on one day with another of their unit, numbered as the lives order them. Key: file_id, row.
create or replace temp table seen_file as
select file_id, rank, path || coalesce(', sheet "' || sheet || '"', '') as file from landing.file join landing.file_order using (file_id);

create or replace temp table checked_unit as
select row_number() over (order by fleet, unit)::integer as unit_id, fleet, unit
from (
  select fleet, unit from records.rebuild_row where standing = 'current' and not barred and unit is not null
  union select fleet, unit from records.reading
  union select fleet, unit from records.unit
  union select fleet, unit from records.retirement
);

create or replace temp table several_card as
with loose as (
  select distinct fleet, card from records.rebuild_row semi join (from landing.file where layout <> 'wide') using (file_id)
  where standing = 'current' and not barred
)
select fleet, card from records.rebuild_row semi join loose using (fleet, card)
where standing = 'current' and not barred
group by fleet, card having count(*) > 1;

create or replace temp table counted_row as
select fleet, card, arg_min(file_id, place) as file_id, arg_min(row, place) as row, arg_min(unit, place) as unit,
       arg_min(removed_on, place) as removed_on, arg_min(received_on, place) as received_on, arg_min(built_on, place) as built_on,
       arg_min(installed_on, place) as installed_on, arg_min(hours_removed, place) as hours_removed,
       arg_min(hours_installed, place) as hours_installed, arg_min(failed_slot, place) as failed_slot,
       arg_min(model, place) as model, arg_min(position, place) as position
from (
  select *, case part when 'card' then (rank::bigint << 31) + row else (1::bigint << 62) - (rank::bigint << 31) - row end as place
  from records.rebuild_row semi join several_card using (fleet, card) join seen_file using (file_id)
  where standing = 'current' and not barred
) group by fleet, card having arg_min(unit, place) is not null and bool_or(part = 'card');

create or replace temp table dated_card as
with counted as (
  select fleet, unit, file_id, row, removed_on, received_on, built_on, installed_on, hours_removed, hours_installed
  from records.rebuild_row anti join several_card using (fleet, card)
  where standing = 'current' and not barred and unit is not null and part = 'card'
  union all by name
  select * exclude (card, failed_slot, model, position) from counted_row
),
dated as (
  select unit_id, file_id, row, hours_removed, hours_installed, installed_on, built_on,
         coalesce(removed_on, received_on, built_on, installed_on) as out_on,
         case when removed_on is not null then 'removed_on' when received_on is not null then 'received_on'
              when built_on is not null then 'built_on' else 'installed_on' end::enum('removed_on', 'received_on', 'built_on', 'installed_on') as out_field
  from counted join checked_unit using (fleet, unit)
)
select * exclude (installed_on, built_on),
       case when installed_on >= out_on then installed_on when built_on >= out_on then built_on end as back_on
from dated
where out_on is not null;

create or replace temp table dated_reading as
select unit_id, file_id, row, read_on, hours, meter_changed, old_meter_hours from records.reading join checked_unit using (fleet, unit);

create or replace temp table same_day_card as
with same_day as (
  select file_id, row, unit_id, out_on, back_on
  from dated_card semi join (select unit_id, out_on from dated_card group by all having count(*) > 1) using (unit_id, out_on)
)
select file_id, row, card, row_number() over (partition by unit_id, out_on order by back_on nulls last, card) as nth_of_day
from records.rebuild_row join same_day using (file_id, row);
