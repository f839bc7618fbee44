-- pipelines/sql/60_in_service.sql
-- installation, life, records.rebuild, records.retirement, as_of -> serving (a temp table): the units that serve on, or will, as of the as-of
-- date, which what they will use is reckoned from. Key: fleet, unit; unit_number (0, 1, ... by fleet and unit). Rows: units of $fleet, or of all, of which
-- some service or a card is known, less those that are retired.
--   rate         run in a calendar month of service; null where no stretch of its service has a length in $clock
--   varies       standard deviation of the log of its running rate from build to build, pooled over its fleet; null where no unit has two builds of two months
--   standing     serving; ready: built and not back in service; opened: in the shop, not yet built
--   runs         it runs on from now: those that serve, and of the others so many as are wanting to the number that served on average in the year
--                before. The rest take the places of frames to come: as many places are filled whoever fills them, and a frame that comes back to
--                its own place after its time in the shop is like one that is changed at once for another
--   turnaround   months from a frame's opening to when it is built, and takes its parts: the middle of its fleet, 0 where no card tells
create or replace temp table serving as
with stretch as (
  select fleet, unit, build_number, model, start_on, stop_on, ends, days as served, case when $clock = 'hours' then hours else days end as ran
  from installation where $fleet is null or fleet = $fleet
),
known as (
  select fleet, unit, sum(served) filter (ran is not null) as told, sum(ran) as ran,
         arg_max(ends, build_number) as ends, max(stop_on) as last_on, arg_max(model, build_number) filter (model is not null) as model
  from stretch group by fleet, unit
),
last_card as (
  select fleet, unit, max_by(coalesce(coalesce(built_on, installed_on) <= as_of, false), (coalesce(removed_on, received_on, built_on, installed_on), card)) as built,
         max(coalesce(removed_on, received_on, built_on, installed_on)) as carded_on, any_value(model) as card_model
  from records.rebuild, as_of
  where coalesce(removed_on, received_on, built_on, installed_on) <= as_of and ($fleet is null or fleet = $fleet) group by fleet, unit
),
retired as (
  select distinct r.fleet, r.unit from records.retirement r left join known using (fleet, unit) left join last_card using (fleet, unit), as_of
  where retired_on <= as_of and retired_on >= coalesce(greatest(known.last_on, carded_on), retired_on)
),
spread as (
  select fleet, sqrt(sum(squares) / nullif(sum(builds - 1), 0)) as varies
  from (
    select fleet, unit, var_pop(ln(ran / served)) * count(*) as squares, count(*) as builds
    from stretch where ran > 0 and served >= 60 group by fleet, unit having count(*) > 1
  )
  group by fleet
),
shop as (
  select fleet, median(coalesce(built_on, installed_on) - coalesce(removed_on, received_on)) / (365.25 / 12) as turnaround
  from records.rebuild, as_of
  where coalesce(built_on, installed_on) between coalesce(removed_on, received_on) and as_of group by fleet
),
standing as (
  select fleet, unit, coalesce(model, card_model) as model, varies, case when told > 0 then ran / told end as by_day,
         case when ends = 'end' then 'serving' when coalesce(built, false) then 'ready' else 'opened' end as standing
  from known full join last_card using (fleet, unit) left join spread using (fleet)
  where (fleet, unit) not in (select (fleet, unit) from retired)
),
place as (
  select fleet, sum(greatest(0, least(coalesce(case when standing = 'serving' and ends = 'end' then as_of end, stop_on), as_of) - greatest(start_on, as_of - 365))) / 365 as places
  from stretch left join standing using (fleet, unit), as_of
  where start_on is not null group by fleet
)
select row_number() over (order by fleet, unit)::integer - 1 as unit_number, fleet, unit, model, standing,
       standing = 'serving' or row_number() over (partition by fleet order by standing = 'serving' desc, standing = 'ready' desc, unit) <= round(coalesce(places, 0)) as runs,
       by_day * 365.25 / 12 as rate, by_day, varies, coalesce(turnaround, 0) as turnaround
from standing left join place using (fleet) left join shop using (fleet);

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

-- life, records.rebuild -> cause (a temp table): of frames opened with failed slots, which of them opened it. Key: fleet, unit, stop_on, slot. Rows: the lives that
-- failed. A frame opens once however many slots are found failed: one is the cause, the others were found. shares: 1: it is the cause, for it is named or
-- failed alone; 0: another one is named, or it is only known to have failed before the frame was opened; else it is one of so many, of which none is named.
create or replace temp table cause as
with failed as (
  select fleet, unit, stop_on, slot, $clock = 'hours' and low_hours is not null or $clock = 'days' and low_days is not null as hidden
  from life where status = 'failed' and ($fleet is null or fleet = $fleet)
),
named as (
  select fleet, unit, coalesce(removed_on, received_on, built_on, installed_on) as stop_on, any_value(failed_slot) as slot
  from records.rebuild where failed_slot is not null group by all
),
told as (
  select f.*, bool_or(f.slot = n.slot) over opening as is_named, f.slot = n.slot as is_it, count(*) filter (not hidden) over opening as together
  from failed f left join named n using (fleet, unit, stop_on)
  window opening as (partition by f.fleet, f.unit, f.stop_on)
)
select fleet, unit, stop_on, slot, (case when coalesce(is_named, false) then is_it when hidden then 0 else together end)::integer as shares from told;

-- studied, cause -> opening_life (a view): lives to the opening of their frame by the slot itself. Key: none. Rows: the usable lives of studied, of all fleets.
-- shares: as in cause, 0 for what did not fail; failed: found failed, cause or not. lives: how many the row stands for.
create or replace temp view opening_life as
select s.fleet, s.slot, case when within then time_high else time_low end as time, entry, coalesce(c.shares, 0) as shares,
       (status = 'failed')::integer as failed, weight::integer as lives
-- What the life itself must be stands in the key: a condition on the left side alone would make a join by pairs of rows.
from studied s left join cause c on c.fleet = s.fleet and c.unit = s.unit and c.stop_on = case when s.status = 'failed' then s.stop_on end and c.slot = s.slot
where left_out is null;

-- records.rebuild, records.fitting, cause, as_of -> renewed (a temp table): of the frames opened, how often each slot got a new component. Key: fleet, slot, shares.
-- Rows: fleets x declared slots x numbers of slots that failed together. opened: cards on which the slot was not the cause, or is one of `shares` that
-- may be (0: surely not); renewed: of these, those that put a new one in.
create or replace temp table renewed as
with slot as (
  select unnest(from_json($slots, '["VARCHAR"]')) as slot
),
built as (
  select fleet, unit, card, failed_slot, coalesce(removed_on, received_on, built_on, installed_on) as stop_on from records.rebuild, as_of
  where coalesce(built_on, installed_on, removed_on, received_on) <= as_of and (built_on is not null or installed_on is not null) and ($fleet is null or fleet = $fleet)
),
-- A row a card, with its slots in lists: one for each of its slots would be many times as many to join.
told as (
  select fleet, card, list(slot) filter (fitted) as fitted, list(slot) filter (condition = 'failed') as failed from records.fitting group by all
),
slotted as (
  select b.fleet, b.unit, b.stop_on, s.slot, coalesce(list_contains(fitted, s.slot), false) as is_fitted,
         coalesce(list_contains(failed, s.slot), false) or coalesce(failed_slot = s.slot, false) as has_failed
  from built b left join told using (fleet, card) cross join slot s
)
select s.fleet, s.slot, case when c.shares > 1 then c.shares else 0 end as shares, count(*)::integer as opened, (count(*) filter (is_fitted))::integer as renewed
from slotted s left join cause c on c.fleet = s.fleet and c.unit = s.unit and c.stop_on = s.stop_on and c.slot = s.slot
where case when c.shares is not null then c.shares <> 1 else not has_failed end
group by all;
