-- pipelines/sql/35_meter.sql
-- meter_step -> meter: what is known of each unit's hour meter, on one axis that never falls.
-- Key: unit_id, moment, visit_id (null: no card's), axis. Rows: as meter_step.
--   next_moment moment of the evidence after: another one than its own where it is the last of its moment
--   axis        tenths of an hour run since the first evidence, breaks counted as nothing
--   segment     counts the breaks before; hours between two moments are known within one segment only
--   broken_by   the latest break before
--   served      as in meter_evidence
--   ran_days    days in service and on a sound meter since the evidence before
-- reason: why hours are not known, or a life can't be used. A byte a row, where its text would be the largest part of it.
create or replace temp type reason as enum (
  'meter_changed_unread', 'meter_went_back', 'meter_stuck', 'impossible_rate', 'no_meter_at_start', 'no_meter', 'rate_unknown', 'zero_or_negative_length',
  'start_unknown', 'slot_on_no_card', 'replacement_not_recorded', 'no_follow_up', 'before_records_begin'
);

create or replace temp table meter as
-- Most meters have run since their first evidence what they show more than it did: only the others are counted through.
with uneven as (
  select distinct unit_id from meter_step where breaks is not null or step <> tenths - before
),
began as (
  select unit_id, tenths as began_at from meter_step where before is null
),
followed as (
  select *, case when breaks is null then greatest(coalesce(served_days, 0), 0) else 0 end::integer as ran_days from meter_step
)
select unit_id, moment, next_moment, on_day, served, visit_id, place, tenths - began_at as axis, 0 as segment, null::reason as broken_by, ran_days
from followed join began using (unit_id) anti join uneven using (unit_id)
union all
select unit_id, moment, next_moment, on_day, served, visit_id, place,
       (sum(case when breaks is null then step else 0 end) over unit)::bigint,
       (count(breaks) over unit)::integer,
       last_value(breaks ignore nulls) over unit::reason, ran_days
from followed semi join uneven using (unit_id)
window unit as (partition by unit_id order by moment, visit_id, tenths, changed rows unbounded preceding);

drop table meter_step;
drop table meter_evidence;
