-- pipelines/sql/36_hours_at.sql
-- meter, visit, follow_up -> hours_at: what the meter stood at when it matters and no card shows it. Key: unit_id, visit_id (0: none), role.
-- Rows: per visit that lacks it out and back, less those not back yet, and per unit one for each of base, origin, observed, records_begin, end
-- (retirement, else the end of watching), as_of and seen that it has.
--   reading   axis (tenths of an hour) and segment as in meter; broken_by, the latest break before; missing, why there is no axis;
--             estimated, where the axis is interpolated, or carried on from the last evidence at the unit's own rate, both by days in service:
--             in the shop no meter runs
--   idle      days out of service before
create or replace temp table hours_at as
with asked as (
  select unit_id, in_shop, last_out_on, unnest(['base', 'origin', 'observed', 'records_begin', 'end', 'as_of', 'seen']) as role,
         unnest([base_on, origin_on, observed_on, records_begin, coalesce(retired_on, watched_on), as_of, seen_on]) as on_day
  from follow_up, as_of
),
wanted as (
  select unit_id, visit_id, 'out' as role, out_on as meter_day, 1 as place, idle_before as idle, out_on - idle_before as served
  from visit anti join (from meter where place = 1) using (visit_id)
  union all
  select unit_id, visit_id, 'back', back_on, 3, idle_after, back_on - idle_after
  from visit anti join (from meter where place = 3) using (visit_id) where back_on is not null
  union all
  -- A unit in the shop runs no hours.
  select a.unit_id, 0, role, case when in_shop then least(on_day, last_out_on) else on_day end, 3,
         coalesce(v.idle_before + (least(v.back_on, v.next_out_on, on_day) - v.out_on), 0) as idle, on_day - idle::integer
  from (from asked where on_day is not null) a
  asof left join (from visit where out_on is distinct from next_out_on) v on v.unit_id = a.unit_id and v.out_on < a.on_day
),
point as (
  select unit_id, moment, next_moment, on_day, served, axis, segment, broken_by from meter where next_moment is distinct from moment
),
ends as (
  select unit_id, min(moment) as first_moment, max(on_day) as last_on, max(axis) as last_axis from point group by unit_id
),
recent as (
  select unit_id, last_axis, min(moment) as since, min(axis) as since_axis
  from point join ends using (unit_id) where on_day >= last_on - 365 group by unit_id, last_axis
),
rate as (
  select unit_id,
         case when sum(ran_days) filter (moment > since) >= 30 then (last_axis - since_axis) / (sum(ran_days) filter (moment > since))::integer
              when sum(ran_days) >= 30 then last_axis / sum(ran_days)::integer end as tenths_a_day
  from meter join recent using (unit_id) group by unit_id, last_axis, since_axis
),
before as (
  select w.*, p.on_day as before_day, p.served as before_served, p.axis as before, p.segment as segment_before, p.broken_by as broken_before,
         case when p.unit_id is null then first_moment else next_moment end as after_moment
  from (select *, (4 * (meter_day - date '1900-01-01') + place)::integer as moment from wanted) w
  asof left join point p on p.unit_id = w.unit_id and p.moment <= w.moment
  left join ends e on e.unit_id = w.unit_id
),
around as (
  select b.*, n.on_day as after_day, n.served as after_served, n.axis as after, n.segment as segment_after, n.broken_by as broken_after
  from before b left join point n on n.unit_id = b.unit_id and n.moment = b.after_moment
),
found as (
  select a.*,
         case when before_day = meter_day then before
              when after_day = meter_day then after
              when segment_before = segment_after
                then before + coalesce(round((after - before) * least(greatest(served - before_served, 0), after_served - before_served)
                                             / nullif(after_served - before_served, 0)), 0)::bigint
              when before is not null and after is null then before + round(tenths_a_day * greatest(served - before_served, 0))::bigint end as axis,
         case when before_day = meter_day then segment_before when after_day = meter_day then segment_after
              else segment_before end as segment,
         case when before is null and after is null then 'no_meter'::reason
              when before_day = meter_day or after_day = meter_day then null
              when before is null then 'no_meter_at_start'::reason
              when segment_before <> segment_after then broken_after
              when after is null and tenths_a_day is null then 'rate_unknown'::reason end as missing,
         case when after_day = meter_day and before_day is distinct from meter_day then broken_after else broken_before end as broken_by,
         before_day is distinct from meter_day and after_day is distinct from meter_day as estimated
  from around a left join rate using (unit_id)
)
select unit_id, visit_id, role, idle,
       struct_pack(axis := axis, segment := segment, broken_by := broken_by, missing := missing, estimated := estimated) as reading
from found;

-- visit, meter, hours_at -> visit_at: each visit with what the meter stood at. Key: visit_id. Rows: those of visit.
--   out_at, back_at   a reading as in hours_at: the card's own, else that found by time; back_at is null where the unit is not back
create or replace temp table visit_at as
select v.unit_id, v.visit_id, v.out_on, v.back_on, v.idle_before, v.idle_after, v.file_id, v.row,
       case when o.axis is null then lacking_out.reading
            else struct_pack(axis := o.axis, segment := o.segment, broken_by := o.broken_by, missing := null::reason, estimated := false) end as out_at,
       case when b.axis is null then lacking_back.reading
            else struct_pack(axis := b.axis, segment := b.segment, broken_by := b.broken_by, missing := null::reason, estimated := false) end as back_at
from visit v
left join (from meter where place = 1) o on o.visit_id = v.visit_id
left join (from meter where place = 3) b on b.visit_id = v.visit_id
left join (from hours_at where role = 'out') lacking_out on lacking_out.visit_id = v.visit_id
left join (from hours_at where role = 'back') lacking_back on lacking_back.visit_id = v.visit_id;
