-- pipelines/sql/35_meter.sql
-- visit, records.reading, known_unit -> meter: what is known of each unit's hour meter, on one axis that never falls.
-- Key: unit_id, moment, visit_id (null: no card's), axis. Rows: the readings and the hours on cards up to the as-of date, a reading left aside where a
-- card of the same day has hours, and 0 h at commissioning, where that lies before them.
--   moment      4 x day + place within the day: 0 commissioned, 1 taken out, 2 read, 3 put back; is_last of its moment
--   axis        tenths of an hour run since the first evidence, breaks counted as nothing
--   segment     counts the breaks before; hours between two moments are known within one segment only
--   broken_by   the latest break before: meter_changed_unread, meter_went_back, meter_stuck, impossible_rate, no_meter_at_start
--   service     days in service and on a sound meter since the first evidence
create or replace temp table meter as
with card_evidence as (
  select unit_id, out_on as on_day, 1 as place, visit_id, (hours_removed * 10).round()::bigint as tenths,
         false as changed, null::bigint as old_tenths
  from visit where hours_removed is not null
  union all
  select unit_id, back_on, 3, visit_id, (coalesce(hours_installed, hours_removed) * 10).round()::bigint,
         coalesce(hours_installed <> hours_removed, false), null
  from visit where back_on is not null and coalesce(hours_installed, hours_removed) is not null
),
reading_evidence as (
  select u.unit_id, r.read_on as on_day, max((r.hours * 10).round()::bigint) as tenths, r.meter_changed as changed,
         max((r.old_meter_hours * 10).round()::bigint) as old_tenths
  from records.reading r join known_unit u using (fleet, unit), as_of
  where r.read_on <= as_of
  group by all
),
recorded as (
  from card_evidence
  union all
  select unit_id, on_day, 2, null, tenths, changed, old_tenths
  from reading_evidence r
  where changed or not exists (from card_evidence c where c.unit_id = r.unit_id and c.on_day = r.on_day)
),
evidence as (
  from recorded
  union all
  select u.unit_id, u.commissioned_on, 0, null, 0, false, null
  from known_unit u join (select unit_id, min(on_day) as first_on from recorded group by unit_id) using (unit_id)
  where u.commissioned_on <= first_on
),
followed as (
  select *, lag(tenths) over unit as before, lag(place) over unit as place_before, lag(visit_id) over unit as visit_before,
         lag(changed) over unit as changed_before, on_day - lag(on_day) over unit as days
  from (select *, (4 * (on_day - date '1900-01-01') + place)::integer as moment from evidence)
  window unit as (partition by unit_id order by moment, visit_id, tenths, changed)
),
-- Dates are whole days: two readings n days apart may lie up to n + 1 days apart.
bounded as (
  select *, 240 * (days + 1) as most,
         coalesce(place = 3 and place_before = 1 and visit_before = visit_id, false) as in_shop,
         changed and place = 2
           -- The card that fitted the new meter has told it already.
           and not (place_before = 3 and changed_before and tenths - before between 0 and 240 * (days + 1)
                    and (old_tenths is null or old_tenths - before not between 0 and 240 * (days + 1))) as new_meter,
         case when before >= 0.9 * 10 * $rollover_at and before < 10 * $rollover_at and tenths <= $rollover_at then (10 * $rollover_at)::bigint
              when before between 90000 and 99999 and tenths <= 10000 then 100000
              when before between 900000 and 999999 and tenths <= 100000 then 1000000 end as capacity
  from followed
),
stepped as (
  select *,
         case when before is null or in_shop then 0
              -- A new meter starts at 0: what it shows has been run since, unless that is more than can have been.
              when new_meter and old_tenths - before + tenths <= most then old_tenths - before + tenths
              when new_meter then old_tenths - before
              when tenths >= before then tenths - before
              else tenths + capacity - before end as step
  from bounded
),
judged as (
  select *,
         case when before is null or in_shop then null
              when new_meter and old_tenths is null then 'meter_changed_unread'
              when place_before = 0 and (step is null or step > most) then 'no_meter_at_start'
              when step is null or step < 0 or (tenths < before and not new_meter and step > most) then 'meter_went_back'
              when step > most then 'impossible_rate' end as fault
  from stepped
),
level as (
  select *, fault is null and step = 0 and before is not null as still,
         count(*) filter (fault is not null or step <> 0) over (partition by unit_id order by moment, visit_id, tenths, changed) as rise
  from judged
),
stuck as (
  select unit_id, rise from level where still and not in_shop group by unit_id, rise having sum(days) > 60
),
marked as (
  select l.*, case when fault is not null then fault when still and not in_shop and s.rise is not null then 'meter_stuck' end as breaks
  from level l left join stuck s on s.unit_id = l.unit_id and s.rise = l.rise
)
select unit_id, moment, on_day, visit_id, place, lead(moment) over unit is distinct from moment as is_last,
       (sum(case when breaks is null then step else 0 end) over unit)::bigint as axis,
       (count(breaks) over unit)::integer as segment,
       last_value(breaks ignore nulls) over unit as broken_by,
       (sum(case when breaks is null and not in_shop then coalesce(days, 0) else 0 end) over unit)::integer as service
from marked
window unit as (partition by unit_id order by moment, visit_id, tenths, changed rows unbounded preceding);
