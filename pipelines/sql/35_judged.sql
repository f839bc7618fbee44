-- pipelines/sql/35_judged.sql
-- meter_evidence -> meter_step: how far each meter ran from one evidence to the next. Key and rows: as meter_evidence.
--   moment      4 x day + place within the day; next_moment: of the evidence after
--   step        tenths of an hour run since the evidence before, a rollover or a change of meter allowed for
--   breaks      why the hours since the evidence before are not known: meter_changed_unread, meter_went_back, meter_stuck, impossible_rate,
--               no_meter_at_start; null where they are. fault: the same without meter_stuck, which is of several evidences together
--   still       stands where the evidence before stood
--   rise        counts the evidences before that moved the meter: those of one rise show the same; null for meters that never stood still long
create or replace temp table meter_step as
with followed as (
  select *, lag(tenths) over unit as before, lag(place) over unit as place_before, lag(visit_id) over unit as visit_before,
         lag(changed) over unit as changed_before, on_day - lag(on_day) over unit as days, served - lag(served) over unit as served_days, lead(moment) over unit as next_moment
  from (select *, (4 * (on_day - date '1900-01-01') + place)::integer as moment from meter_evidence)
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
)
select * exclude (place_before, visit_before, changed_before, most, capacity),
       fault is null and step = 0 and before is not null and not in_shop as still, null::bigint as rise, fault as breaks
from judged;

-- Few meters ever stand still in service: only theirs are counted through.
create or replace temp table still_unit as
select unit_id from meter_step where still group by unit_id having sum(days) > 60;

create or replace temp table still_step as
with level as (
  select * exclude (rise, breaks),
         count(*) filter (fault is not null or step <> 0) over (partition by unit_id order by moment, visit_id, tenths, changed) as rise
  from meter_step semi join still_unit using (unit_id)
),
stuck as (
  select unit_id, rise from level where still group by unit_id, rise having sum(days) > 60
)
select l.*, case when fault is not null then fault when still and s.rise is not null then 'meter_stuck' end as breaks
from level l left join stuck s on s.unit_id = l.unit_id and s.rise = l.rise;

delete from meter_step where unit_id in (from still_unit);

insert into meter_step from still_step;

drop table still_step;
drop table still_unit;
