-- pipelines/sql/36_hours_at.sql
-- meter, visit, follow_up -> hours_at: what the meter stood at when it matters. Key: unit_id, visit_id (0: none), role. Rows: two per visit (out, back),
-- less those not back yet, and per unit one for each of base, origin, observed, records_begin, end (retirement, else the end of watching), as_of and
-- seen that it has.
--   reading   axis (tenths of an hour) and segment as in meter; broken_by, the latest break before; missing, why there is no axis;
--             estimated, where the axis is interpolated, or carried on from the last evidence at the unit's own rate
--   idle      days out of service before
create or replace temp table hours_at as
with asked as (
  select unit_id, in_shop, last_out_on, unnest(['base', 'origin', 'observed', 'records_begin', 'end', 'as_of', 'seen']) as role,
         unnest([base_on, origin_on, observed_on, records_begin, coalesce(retired_on, watched_on), as_of, seen_on]) as on_day
  from follow_up, as_of
),
wanted as (
  select unit_id, visit_id, 'out' as role, out_on as on_day, out_on as meter_day, 1 as place, idle_before as idle from visit
  union all
  select unit_id, visit_id, 'back', back_on, back_on, 3, idle_after from visit where back_on is not null
  union all
  -- A unit in the shop runs no hours.
  select a.unit_id, 0, role, on_day, case when in_shop then least(on_day, last_out_on) else on_day end, 3,
         coalesce(v.idle_before + (least(v.back_on, v.next_out_on, on_day) - v.out_on), 0)
  from (from asked where on_day is not null) a
  asof left join (from visit where out_on is distinct from next_out_on) v on v.unit_id = a.unit_id and v.out_on < a.on_day
),
-- A visit's own evidence; anything else is looked for by time.
direct as (
  select w.*, m.axis, m.segment, m.broken_by
  from wanted w left join meter m on m.visit_id = w.visit_id and m.place = w.place
),
point as (
  from meter where is_last
),
last_point as (
  select unit_id, max(on_day) as last_on, arg_max(axis, moment) as axis, arg_max(service, moment) as service from point group by unit_id
),
rate as (
  select l.unit_id,
         case when l.service - min(p.service) filter (p.on_day >= last_on - 365) >= 30
              then (l.axis - min(p.axis) filter (p.on_day >= last_on - 365)) / (l.service - min(p.service) filter (p.on_day >= last_on - 365))
              when l.service >= 30 then l.axis / l.service end as tenths_a_day
  from last_point l join point p using (unit_id)
  group by l.unit_id, l.axis, l.service
),
around as (
  select w.unit_id, w.visit_id, w.role, w.on_day, w.meter_day, w.idle,
         p.on_day as before_day, p.axis as before, p.segment as segment_before, p.broken_by as broken_before,
         n.on_day as after_day, n.axis as after, n.segment as segment_after, n.broken_by as broken_after
  from (select *, (4 * (meter_day - date '1900-01-01') + place)::integer as moment from direct where axis is null) w
  asof left join point p on p.unit_id = w.unit_id and p.moment <= w.moment
  asof left join point n on n.unit_id = w.unit_id and n.moment > w.moment
),
found as (
  select a.*,
         case when before_day = meter_day then before
              when after_day = meter_day then after
              when segment_before = segment_after
                then before + round((after - before) * (meter_day - before_day) / (after_day - before_day))::bigint
              when before is not null and after is null then before + round(tenths_a_day * (meter_day - before_day))::bigint end as axis,
         case when before_day = meter_day then segment_before when after_day = meter_day then segment_after
              else segment_before end as segment,
         case when before is null and after is null then 'no_meter'
              when before_day = meter_day or after_day = meter_day then null
              when before is null then 'no_meter_at_start'
              when segment_before <> segment_after then broken_after
              when after is null and tenths_a_day is null then 'rate_unknown' end as missing,
         case when after_day = meter_day and before_day is distinct from meter_day then broken_after else broken_before end as broken_by,
         before_day is distinct from meter_day and after_day is distinct from meter_day as estimated
  from around a left join rate using (unit_id)
)
select unit_id, visit_id, role, on_day, idle,
       struct_pack(axis := axis, segment := segment, broken_by := broken_by, missing := null::varchar, estimated := false) as reading
from direct where axis is not null
union all
select unit_id, visit_id, role, on_day, idle,
       struct_pack(axis := axis, segment := segment, broken_by := broken_by, missing := missing, estimated := estimated)
from found;
