-- pipelines/sql/04_current_card.sql
-- records.rebuild_row -> the view records.rebuild: the current version of every card. Key: fleet, card. A card of several rows takes each
-- field from its first row that has it: those of the card itself, then measured ones, whose last value counts. Measured values alone are none.
create or replace view records.rebuild as
with standing_row as (
  from records.rebuild_row where standing = 'current' and not barred
),
-- Of a wide file's rows for one card a single one is current: only other files, and cards that they speak of, can have several.
loose as (
  select distinct fleet, card from standing_row semi join (from landing.file where layout <> 'wide') using (file_id)
),
several as (
  select fleet, card from standing_row semi join loose using (fleet, card) group by fleet, card having count(*) > 1
)
select fleet, card, file_id, row, unit, position, site, model, removed_on, received_on, built_on, installed_on,
       hours_removed, hours_installed, coalesce(reason, 'unknown') as reason, failed_slot, lube, seal_arrangement,
       end_play_mm, end_play_found_mm, shims_mm, race_depth_mm, spigot_height_mm, end_play_unshimmed_mm, ring_temperature_c,
       speed_rpm, fitter, remarks
from standing_row anti join several using (fleet, card) where unit is not null and part = 'card'
union all
select fleet, card, arg_min(file_id, place), arg_min(row, place), arg_min(unit, place), arg_min(position, place),
       arg_min(site, place), arg_min(model, place), arg_min(removed_on, place), arg_min(received_on, place),
       arg_min(built_on, place), arg_min(installed_on, place), arg_min(hours_removed, place), arg_min(hours_installed, place),
       coalesce(arg_min(reason, place), 'unknown'), arg_min(failed_slot, place), arg_min(lube, place), arg_min(seal_arrangement, place),
       arg_min(end_play_mm, place), arg_min(end_play_found_mm, place), arg_min(shims_mm, place), arg_min(race_depth_mm, place),
       arg_min(spigot_height_mm, place), arg_min(end_play_unshimmed_mm, place), arg_min(ring_temperature_c, place),
       arg_min(speed_rpm, place), arg_min(fitter, place), arg_min(remarks, place)
from (
  select *, case part when 'card' then (coalesce(rank, 0)::bigint << 31) + row else (1::bigint << 62) - (coalesce(rank, 0)::bigint << 31) - row end as place
  from standing_row semi join several using (fleet, card) left join landing.file_order using (file_id)
) group by fleet, card having arg_min(unit, place) is not null and bool_or(part = 'card');
