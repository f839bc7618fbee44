-- pipelines/sql/60_in_service.sql
-- installation, life, records.rebuild, records.retirement, as_of -> serving (a temp table): the units that serve on, or will, as of the as-of
-- date, which what they will use is reckoned from. Key: fleet, unit; unit_number (0, 1, ... by fleet and unit). Rows: units of $fleet, or of all, of which
-- some service is known, less those that are retired.
--   rate         run in a calendar month, time out of service included; null where no stretch of its service has a length in $clock
--   varies       standard deviation of the log of its running rate from build to build, pooled over its fleet; null where no unit has two builds of two months
--   standing     serving; ready: built and not back in service; opened: in the shop, not yet built
create or replace temp table serving as
with stretch as (
  select fleet, unit, build_number, model, start_on, stop_on, ends, days as served, case when $clock = 'hours' then hours else days end as ran
  from installation where $fleet is null or fleet = $fleet
),
known as (
  select fleet, unit, min(start_on) as first_on, sum(served) as served, sum(ran) as ran, sum(served) filter (ran is not null) as told,
         arg_max(ends, build_number) as ends, max(stop_on) as last_on, arg_max(model, build_number) filter (model is not null) as model
  from stretch group by fleet, unit
),
last_card as (
  select fleet, unit, max_by(coalesce(built_on, installed_on) <= as_of, (coalesce(removed_on, received_on, built_on, installed_on), card)) as built
  from records.rebuild, as_of where coalesce(removed_on, received_on, built_on, installed_on) <= as_of group by fleet, unit
),
retired as (
  select distinct r.fleet, r.unit from records.retirement r join known using (fleet, unit), as_of where retired_on <= as_of and retired_on >= coalesce(known.last_on, retired_on)
),
spread as (
  select fleet, sqrt(sum(squares) / nullif(sum(builds - 1), 0)) as varies
  from (
    select fleet, unit, var_pop(ln(ran / served)) * count(*) as squares, count(*) as builds
    from stretch where ran > 0 and served >= 60 group by fleet, unit having count(*) > 1
  )
  group by fleet
),
rated as (
  select k.*, varies,
         case when told > 0 then ran / told end as by_day,
         least(1, greatest(coalesce(served, 0), 0) / nullif(as_of - first_on, 0)) as in_service
  from known k left join spread using (fleet), as_of
  where (fleet, unit) not in (select (fleet, unit) from retired)
)
select row_number() over (order by fleet, unit)::integer - 1 as unit_number, fleet, unit, model,
       case when ends = 'end' then 'serving' when coalesce(built, false) then 'ready' else 'opened' end as standing,
       by_day * coalesce(in_service, 1) * 365.25 / 12 as rate, by_day, varies
from rated left join last_card using (fleet, unit);

-- serving, life, $slots -> serving_slot (a temp table): what each of them has in each declared slot. Key: unit_number, slot_number (0, 1, ... as
-- declared). Rows: serving x slots. age: run by the as-of date, beyond where it was followed by the unit's own rate; 0 for what the shop has
-- just put in, or is about to; null where its start is not known.
create or replace temp table serving_slot as
with slot as (
  select generate_subscripts(names, 1)::integer - 1 as slot_number, unnest(names) as slot from (select from_json($slots, '["VARCHAR"]') as names)
),
running as (
  select fleet, unit, slot, any_value(case when $clock = 'hours' then hours else days end) as ran, any_value(stop_on) as followed_on
  from life where status = 'running' group by fleet, unit, slot
)
select unit_number, slot_number,
       case when standing <> 'serving' then 0 else ran + greatest(as_of - followed_on, 0) * by_day end as age
from serving cross join slot left join running using (fleet, unit, slot), as_of;

-- installation, life -> opened_otherwise (a temp table): time from a build to the opening of the frame for another reason than a slot that failed.
-- Key: none. Rows: stretches of service with a length in $clock, of $fleet or all. ended: 1 where it was opened so, else it had not been.
create or replace temp table opened_otherwise as
with failed_at as (
  select distinct fleet, unit, stop_on from life where status = 'failed'
)
select i.fleet, case when $clock = 'hours' then hours else days end as time, (ends <> 'end' and f.stop_on is null)::utinyint as ended
from installation i left join failed_at f on f.fleet = i.fleet and f.unit = i.unit and f.stop_on = i.stop_on
where case when $clock = 'hours' then hours else days end > 0 and ($fleet is null or i.fleet = $fleet);

-- records.rebuild, records.fitting, as_of -> renewed (a temp table): of the frames opened, how often each slot got a new component. Key: fleet, slot.
-- Rows: fleets x declared slots. opened: cards on which the slot did not fail; renewed: of these, those that put a new one in.
create or replace temp table renewed as
with slot as (
  select unnest(from_json($slots, '["VARCHAR"]')) as slot
),
built as (
  select fleet, card, failed_slot from records.rebuild, as_of
  where coalesce(built_on, installed_on, removed_on, received_on) <= as_of and (built_on is not null or installed_on is not null) and ($fleet is null or fleet = $fleet)
),
told as (
  select fleet, card, slot, bool_or(fitted) as fitted, bool_or(condition = 'failed') as failed from records.fitting group by all
)
select b.fleet, s.slot, count(*)::integer as opened, (count(*) filter (fitted))::integer as renewed
from built b cross join slot s left join told t on t.fleet = b.fleet and t.card = b.card and t.slot = s.slot
where coalesce(failed, false) = false and failed_slot is distinct from s.slot
group by b.fleet, s.slot;
