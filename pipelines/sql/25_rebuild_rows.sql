-- pipelines/sql/25_rebuild_rows.sql
-- source, verdict -> records.rebuild_row and records.fitting_row (a row per source row and slot it speaks of); key file_id, row; $file_id.
-- Rows: those of source that are data and not refused whole.
insert into records.rebuild_row by name
select $file_id as file_id, row, part, card, fleet, unit, position, site, model, removed_on, received_on, built_on, installed_on, revised_on,
       hours_removed, hours_installed, reason, failed_slot, lube, seal_arrangement, end_play_mm, end_play_found_mm, shims_mm,
       race_depth_mm, spigot_height_mm, end_play_unshimmed_mm, ring_temperature_c, speed_rpm, fitter, remarks,
       content, coalesce(v.standing, 'current') as standing, false as barred
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;

insert into records.fitting_row
select $file_id, row, fleet, card, fitting.slot, fitting.fitted, fitting.condition, fitting.damage_mode, fitting.part, fitting.batch, standing, false
from (
  select row, fleet, card, unnest(fittings) as fitting, coalesce(v.standing, 'current') as standing
  from source left join (from verdict where file_id = $file_id) v using (row)
  where not_data is null and not fatal
);
