-- pipelines/sql/39_installation.sql
-- visit, follow_up, hours_at, known_unit -> installation: one build of a unit, at one position, between two rebuilds. Key: fleet, unit, build_number.
-- Rows: one per visit from which the unit was back by the as-of date, and one for the build before the first card where its start is known.
--   days, hours        length of this build; left_out_days, left_out_hours say why there is none. A build that began before the records has none
--                      unless its own start is known, and still counts in the unit's recurrence from entry on.
--   start_*, stop_*    the unit's age at both ends, from commissioning or else from its first known start; null in hours across a break of the meter
--   entry_*            the unit's age at which it came under observation: the same in all its rows
create or replace temp table installation as
with opened as (
  select unit_id, 0 as visit_id, sound_base_on as start_on from follow_up where sound_base_on is not null
  union all
  select unit_id, visit_id, back_on from visit
),
span as (
  select unit_id, visit_id as first_visit, start_on, lead(visit_id) over (partition by unit_id order by visit_id) as last_visit from opened
),
unit_at as (
  select unit_id,
         any_value(reading) filter (role = 'base') as base, any_value(reading) filter (role = 'origin') as origin,
         any_value(reading) filter (role = 'observed') as observed, any_value(reading) filter (role = 'end') as end_at,
         any_value(reading) filter (role = 'as_of') as as_of_at
  from hours_at where visit_id = 0 group by unit_id
),
followed as (
  select p.*, f.origin_on, f.observed_on, f.records_begin, f.retired_on, f.watched_on,
         a.origin, a.observed, a.end_at, a.as_of_at,
         case when first_visit = 0 then a.base else b.reading end as start_at,
         case when first_visit = 0 then f.base_marked = 'last_rebuilt'
              else f.last_rebuilt_on between s.out_on and s.back_on end as rebuild_is_last,
         case when last_visit is not null then 'card' when f.retired_on is not null then 'retired' when f.watched_on > start_on then 'watched'
              when f.unwatched then 'unwatched' else 'assumed' end as followed_by
  from span p
  join follow_up f using (unit_id)
  join unit_at a using (unit_id)
  left join visit s on s.visit_id = p.first_visit
  left join (from hours_at where role = 'back') b on b.visit_id = p.first_visit
  where start_on is not null
),
stopped as (
  select p.*,
         case followed_by when 'card' then e.out_on when 'retired' then retired_on when 'watched' then watched_on when 'assumed' then as_of end as stop_on,
         case followed_by when 'card' then o.reading when 'assumed' then as_of_at else end_at end as stop_at,
         case when followed_by <> 'card' then 'end' when e.reason in ('failure', 'unknown') then e.reason else 'planned' end as ends,
         e.file_id as card_file, e.row as card_row,
         start_on < records_begin as early
  from followed p
  join as_of on true
  left join visit e on e.visit_id = p.last_visit
  left join (from hours_at where role = 'out') o on o.visit_id = p.last_visit
),
judged as (
  select *,
         case when followed_by = 'unwatched' then 'no_follow_up'
              when early and stop_on <= records_begin then 'before_records_begin'
              when early and not coalesce(rebuild_is_last, false) then 'start_unknown'
              when stop_on <= start_on then 'zero_or_negative_length' end as left_out_days,
         case when followed_by = 'unwatched' then 'no_follow_up'
              when early and stop_on <= records_begin then 'before_records_begin'
              when early and not coalesce(rebuild_is_last, false) then 'start_unknown'
              when gap_between(start_at, stop_at) is not null then gap_between(start_at, stop_at)
              when tenths_between(start_at, stop_at) <= 0 then 'zero_or_negative_length' end as left_out_hours,
         followed_by = 'assumed' as assumed_running
  from stopped
)
select u.fleet, u.unit, coalesce(s.position, u.position) as position, coalesce(s.site, u.site) as site, coalesce(s.model, u.model) as model,
       coalesce(s.visit_number, 0)::integer as build_number, s.card, start_on, stop_on, ends,
       (observed_on - origin_on)::double as entry_days,
       tenths_between(origin, observed) / 10 as entry_hours,
       (start_on - origin_on)::double as start_days,
       (stop_on - origin_on)::double as stop_days,
       tenths_between(origin, start_at) / 10 as start_hours,
       case when followed_by <> 'unwatched' then tenths_between(origin, stop_at) end / 10 as stop_hours,
       case when left_out_days is null then stop_on - start_on end::double as days,
       case when left_out_hours is null then tenths_between(start_at, stop_at) / 10 end::double as hours,
       coalesce(start_at.estimated, false) or coalesce(stop_at.estimated, false) as hours_estimated,
       assumed_running,
       case when not assumed_running then stop_on - origin_on end::double as last_seen_days,
       case when followed_by not in ('assumed', 'unwatched') then tenths_between(origin, stop_at) / 10 end::double as last_seen_hours,
       left_out_days, left_out_hours,
       s.end_play, s.end_play_band, s.lube, s.seal_arrangement, s.ring_temperature, s.shims, coalesce(s.speed, u.speed) as speed, s.fitter, s.built_year,
       case when first_visit > 0 then s.file_id else u.listed_source.file_id end as start_file,
       case when first_visit > 0 then s.row else u.listed_source.row end as start_row,
       case followed_by when 'card' then card_file when 'retired' then u.retired_source.file_id
                        when 'watched' then case when u.listed_on = j.watched_on then u.listed_source.file_id else u.read_source.file_id end end as stop_file,
       case followed_by when 'card' then card_row when 'retired' then u.retired_source.row
                        when 'watched' then case when u.listed_on = j.watched_on then u.listed_source.row else u.read_source.row end end as stop_row
from judged j
join known_unit u using (unit_id)
left join visit s on s.visit_id = j.first_visit;
