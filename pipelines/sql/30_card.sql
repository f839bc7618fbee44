-- pipelines/sql/30_card.sql
-- records.rebuild -> card: each job card with the dates that count. Key: rowid; fleet, card. Rows: the cards that have a date at all.
--   out_on   the unit left service: removed, else received, else built, else installed
--   back_on  it went back: installed, else built, else out_on; a date before out_on is not believed. back_marked says which it is
--   lengths and the ring temperature in the workspace's units; end_play_found is of the build before, as the frame came in
-- band: the bands of as-built end play. Key: low. Rows: one more than $band_edges has; none where there are no edges.
create or replace temp table band as
with edge as (
  select unnest(list_sort(from_json($band_edges, '["DOUBLE"]'))) as edge
),
side as (
  select edge as low, lead(edge) over (order by edge) as high from edge
  union all
  select '-infinity'::double, min(edge) from edge having count(*) > 0
)
select low,
       case when low = '-infinity'::double then 'under ' || printf('%g', high)
            when high is null then printf('%g', low) || ' and over'
            else printf('%g', low) || ' to ' || printf('%g', high) end as label
from side;

create or replace temp table card as
with dated as (
  select *, coalesce(removed_on, received_on, built_on, installed_on) as out_on,
         -- 3 thou come back from mm as 3, not as 2.9999999999
         round(end_play_mm / $mm_per_length, 6) as end_play, round(end_play_found_mm / $mm_per_length, 6) as end_play_found,
         round(end_play_unshimmed_mm / $mm_per_length, 6) as end_play_unshimmed, round(race_depth_mm / $mm_per_length, 6) as race_depth,
         round(spigot_height_mm / $mm_per_length, 6) as spigot_height, round(shims_mm / $mm_per_length, 6) as shims,
         round(case when $fahrenheit then ring_temperature_c * 9 / 5 + 32 else ring_temperature_c end, 6) as ring_temperature
  from records.rebuild
),
bands as (
  select list(low order by low) as lows, list(label order by low) as labels from band
)
select fleet, unit, card, position, site, model, reason, failed_slot, hours_removed, hours_installed,
       out_on,
       case when installed_on >= out_on then installed_on when built_on >= out_on then built_on else out_on end as back_on,
       case when installed_on >= out_on then 'installed' when built_on >= out_on then 'built' else 'removed' end as back_marked,
       end_play, labels[len(list_filter(lows, lambda low: low <= end_play))] as end_play_band, lube, seal_arrangement, ring_temperature,
       end_play_found, shims, race_depth, spigot_height, end_play_unshimmed, speed_rpm as speed, fitter, year(coalesce(built_on, out_on))::integer as built_year,
       file_id, row
from dated, bands
where out_on is not null;
