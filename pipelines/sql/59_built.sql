-- pipelines/sql/59_built.sql
-- records.rebuild, installation, as_of -> built (a temp table): each frame that left the bench by the as-of date, as its card says it was built,
-- and how its time in service went. Key: fleet, card. Rows: the cards that say when the frame was built or put back, or give a reading of it as
-- built. Lengths and the ring temperature in the workspace's units; built_on: the day built, else the day of the card that is nearest to it.
--   days         in service, to its end or as far as it was followed: a frame back on its day counts half of one. ends: as in installation
--   left_out     why its time in service is not known, or null
create or replace temp table built as
with card as (
  select fleet, card, unit, position, site, model, coalesce(built_on, installed_on, received_on, removed_on) as built_on, lube, seal_arrangement,
         round(end_play_mm / $mm_per_length, 6) as end_play, round(end_play_unshimmed_mm / $mm_per_length, 6) as end_play_unshimmed,
         round(race_depth_mm / $mm_per_length, 6) as race_depth, round(spigot_height_mm / $mm_per_length, 6) as spigot_height,
         round(shims_mm / $mm_per_length, 6) as shims,
         round(case when $fahrenheit then ring_temperature_c * 9 / 5 + 32 else ring_temperature_c end, 6) as ring_temperature,
         speed_rpm as speed, fitter, file_id, row
  from records.rebuild
  where coalesce(built_on, installed_on) is not null or end_play_mm is not null
),
stay as (
  select fleet, unit, card, id, start_on, stop_on, ends, stop_file, stop_row,
         case when stop_on > start_on then stop_on - start_on when stop_on = start_on then 0.5 end::double as days,
         coalesce(nullif(left_out_days, 'zero_or_negative_length'),
                  case when start_days < entry_days then 'before_records_begin' when stop_on < start_on then 'ends_before_its_start' end) as left_out
  from installation where card is not null
)
select row_number() over (order by fleet, built_on nulls first, card)::integer as place,
       c.*, s.id, s.start_on, s.stop_on, s.ends, s.days, s.stop_file, s.stop_row,
       case when s.id is null then 'not_back_in_service' else s.left_out end as left_out,
       strftime(built_on, '%Y-%m') as month,
       year(built_on) || '-Q' || quarter(built_on) as quarter
from card c left join stay s using (fleet, unit, card), as_of
where built_on is null or built_on <= as_of;
