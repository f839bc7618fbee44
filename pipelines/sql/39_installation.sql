-- pipelines/sql/39_installation.sql
-- build, visit, visit_at, follow_up, hours_at -> installation: one build of a unit, at one position, between two rebuilds. Key: fleet, unit, build_number.
-- Rows: one per visit from which the unit was back by the as-of date, and one for the build before the first card where its start is known.
-- installation is a view: what the build tells is kept once, installation_time has the rest. `id` names it for people: fleet, unit and build number.
--   days, hours        length of this build; left_out_days, left_out_hours say why there is none. A build that began before the records has none
--                      unless its own start is known, and still counts in the unit's recurrence from entry on.
--   start_*, stop_*    the unit's age at both ends, from commissioning or else from its first known start; null in hours across a break of the meter
--   entry_*            the unit's age at which it came under observation: the same in all its rows
--   from_new           the unit has been watched from its commissioning on: its whole history is on record
--   last_seen_*        the age to stop at in place of stop_* where the build is assumed to be running; null where nothing is left
create or replace temp table installation_time as
with unit_at as (
  select f.unit_id, f.origin_on, f.observed_on, f.base_marked, f.sound_base_on, origin.reading as origin_at, observed.reading as observed_at
  from follow_up f
  left join (from hours_at where role = 'origin') origin using (unit_id)
  left join (from hours_at where role = 'observed') observed using (unit_id)
),
measured as (
  select b.build_id, b.start_on, b.start_at, b.early, b.records_begin, b.left_out, b.ends, b.run_tenths, b.seen_days, b.seen_tenths,
         u.origin_on, u.observed_on, u.origin_at, u.observed_at,
         coalesce(u.base_marked = 'commissioned' and u.sound_base_on = u.observed_on, false) as from_new,
         next_visit is null as running,
         case when running then 'end' when c.reason in ('failure', 'unknown') then c.reason else 'planned' end as ended_by,
         coalesce(o.out_on, run_stop_on) as stop_on,
         case when running then run_tenths else tenths_between(start_at, o.out_at) end as ran_tenths,
         case when running then run_gap else gap_between(start_at, o.out_at) end as gap,
         case when running then run_estimated else o.out_at.estimated end as stop_estimated,
         tenths_between(origin_at, start_at) as start_tenths,
         case when not running then tenths_between(origin_at, o.out_at) end as out_tenths,
         case when running then run_file else o.file_id end as stop_file,
         case when running then run_row else o.row end as stop_row
  from build b
  join unit_at u using (unit_id)
  left join visit_at o on o.visit_id = b.next_visit
  left join visit c on c.visit_id = b.next_visit
  where case when b.visit_id = 0 then u.sound_base_on is not null else true end
),
judged as (
  select *,
         running and ends = 'assumed' as assumed_running,
         case when running then start_tenths + run_tenths else out_tenths end as stop_tenths,
         case when running and ends = 'unwatched' then 'no_follow_up'::reason
              when early and stop_on <= records_begin then 'before_records_begin'::reason
              else left_out end as because
  from measured
),
kept as (
  select *,
         coalesce(because, case when stop_on <= start_on then 'zero_or_negative_length'::reason end) as left_out_days,
         coalesce(because, gap, case when ran_tenths <= 0 then 'zero_or_negative_length'::reason end) as left_out_hours
  from judged
)
select build_id, stop_on, ended_by as ends,
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
       left_out_days, left_out_hours, stop_file, stop_row
from kept;

create or replace temp view installation as
select concat_ws('/', b.fleet, b.unit, b.build_number) as id,
       b.fleet, b.unit, b.position, b.site, b.model, b.build_number, b.card, b.start_on, t.stop_on, t.ends,
       t.entry_days, t.entry_hours, t.start_days, t.stop_days, t.start_hours, t.stop_hours, t.days, t.hours, t.hours_estimated, t.assumed_running, t.from_new,
       t.last_seen_days, t.last_seen_hours, t.left_out_days::varchar as left_out_days, t.left_out_hours::varchar as left_out_hours,
       b.end_play, b.end_play_band, b.lube, b.seal_arrangement, b.ring_temperature, b.shims, b.speed, b.fitter, b.built_year,
       b.start_file, b.start_row, t.stop_file, t.stop_row
from installation_time t join build b using (build_id);

-- What nothing asks for once lives are there.
drop table visit_at;
drop table hours_at;
drop table follow_up;
drop table meter;
