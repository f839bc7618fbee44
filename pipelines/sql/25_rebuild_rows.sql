-- pipelines/sql/25_rebuild_rows.sql
-- source, verdict -> records.rebuild_row and records.fitting_row (a row per source row and slot it speaks of); key file_id, row; $file_id.
-- Rows: those of source that are data, not refused whole and no duplicate. Versions of other files change their standing where need be.
insert into records.rebuild_row
select $file_id, row, card, fleet, unit, position, site, model, removed_on, received_on, built_on, installed_on, hours_removed, hours_installed,
       coalesce(reason, 'unknown'), failed_slot, lube, seal_arrangement, end_play_mm, end_play_found_mm, shims_mm,
       ring_temperature_c, speed_rpm, fitter, remarks,
       content, coalesce(v.superseded, false)
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal and not coalesce(v.duplicate, false);

insert into records.fitting_row
select $file_id, row, fleet, card, fitting.slot, fitting.fitted, fitting.condition, fitting.damage_mode, fitting.part, fitting.batch, superseded
from (
  select row, fleet, card, unnest(fittings) as fitting, coalesce(v.superseded, false) as superseded
  from source left join (from verdict where file_id = $file_id) v using (row)
  where not_data is null and not fatal and not coalesce(v.duplicate, false)
);

update records.rebuild_row r set superseded = v.superseded
from verdict v where v.file_id = r.file_id and v.row = r.row and v.file_id <> $file_id and v.superseded <> r.superseded;

update records.fitting_row r set superseded = v.superseded
from verdict v where v.file_id = r.file_id and v.row = r.row and v.file_id <> $file_id and v.superseded <> r.superseded;
