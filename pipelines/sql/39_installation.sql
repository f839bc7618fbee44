-- pipelines/sql/39_installation.sql
-- build, visit, follow_up, hours_at -> installation: one build of a unit, at one position, between two rebuilds. Key: fleet, unit, build_number.
-- Rows: one per visit from which the unit was back by the as-of date, and one for the build before the first card where its start is known.
-- installation is a view: installation_time has all but `id`, which names it for people: fleet, unit and build number.
--   days, hours        length of this build; left_out_days, left_out_hours say why there is none. A build that began before the records has none
--                      unless its own start is known, and still counts in the unit's recurrence from entry on.
--   start_*, stop_*    the unit's age at both ends, from commissioning or else from its first known start; null in hours across a break of the meter
--   entry_*            the unit's age at which it came under observation: the same in all its rows
--   from_new           the unit has been watched from its commissioning on: its whole history is on record
--   last_seen_*        the age to stop at in place of stop_* where the build is assumed to be running; null where nothing is left
create or replace temp table installation_time as
with unit_at as (
  select f.*, any_value(h.reading) filter (h.role = 'origin') as origin_at, any_value(h.reading) filter (h.role = 'observed') as observed_at
  from follow_up f join hours_at h on h.unit_id = f.unit_id and h.visit_id = 0
  group by all
),
taken_out as (
  select v.visit_id, v.out_on, v.reason, v.file_id, v.row, h.reading
  from visit v join hours_at h on h.visit_id = v.visit_id and h.role = 'out'
),
measured as (
  select b.*, u.origin_on, u.observed_on, u.origin_at, u.observed_at,
         coalesce(u.base_marked = 'commissioned' and u.sound_base_on = u.observed_on, false) as from_new,
         next_visit is null as running,
         case when running then 'end' when o.reason in ('failure', 'unknown') then o.reason else 'planned' end as ended_by,
         coalesce(o.out_on, run_stop_on) as stop_on,
         case when running then run_tenths else tenths_between(start_at, o.reading) end as ran_tenths,
         case when running then run_gap else gap_between(start_at, o.reading) end as gap,
         case when running then run_estimated else o.reading.estimated end as stop_estimated,
         tenths_between(origin_at, start_at) as start_tenths,
         case when not running then tenths_between(origin_at, o.reading) end as out_tenths,
         case when running then run_file else o.file_id end as stop_file,
         case when running then run_row else o.row end as stop_row
  from build b
  join unit_at u using (unit_id)
  left join taken_out o on o.visit_id = b.next_visit
  where case when b.visit_id = 0 then u.sound_base_on is not null else true end
),
judged as (
  select *,
         running and ends = 'assumed' as assumed_running,
         case when running then start_tenths + run_tenths else out_tenths end as stop_tenths,
         case when running and ends = 'unwatched' then 'no_follow_up'
              when early and stop_on <= records_begin then 'before_records_begin'
              else left_out end as because
  from measured
),
kept as (
  select *,
         coalesce(because, case when stop_on <= start_on then 'zero_or_negative_length' end) as left_out_days,
         coalesce(because, gap, case when ran_tenths <= 0 then 'zero_or_negative_length' end) as left_out_hours
  from judged
)
select fleet, unit, position, site, model, build_number, card, start_on, stop_on, ended_by as ends,
       (observed_on - origin_on)::double as entry_days,
       (tenths_between(origin_at, observed_at) / 10)::double as entry_hours,
       (start_on - origin_on)::double as start_days,
       (stop_on - origin_on)::double as stop_days,
       (start_tenths / 10)::double as start_hours,
       (stop_tenths / 10)::double as stop_hours,
       case when left_out_days is null then stop_on - start_on end::double as days,
       case when left_out_hours is null then ran_tenths / 10 end::double as hours,
       coalesce(start_at.estimated or stop_estimated, false) as hours_estimated,
       assumed_running, from_new,
       case when assumed_running then (start_on - origin_on) + seen_days else stop_on - origin_on end::double as last_seen_days,
       case when assumed_running then start_tenths + seen_tenths else stop_tenths end::double / 10 as last_seen_hours,
       left_out_days, left_out_hours,
       end_play, end_play_band, lube, seal_arrangement, ring_temperature, shims, speed, fitter, built_year,
       start_file, start_row, stop_file, stop_row
from kept;

create or replace temp view installation as
select concat_ws('/', fleet, unit, build_number) as id, * from installation_time;
