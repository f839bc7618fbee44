-- pipelines/sql/62_replayed.sql
-- used, serving, as_of -> replayed (a temp table): what frames took before and after the as-of date, in stretches of time. Key: fleet, model, slot, stretch,
-- is_known. Rows: one per stretch and kind of frame and slot that got something. $edges: days on which stretches begin, in order, the last one the day
-- after all of them.
--   stretch   number of the stretch, from 0 on
--   is_known  it was taken by the as-of date, or by a unit that the forecast of that date is made for
create or replace temp table replayed as
with edge as (
  select generate_subscripts(days, 1)::integer - 1 as stretch, unnest(days) as begins_on from (select from_json($edges, '["DATE"]') as days)
),
told as (
  select u.fleet, coalesce(s.model, u.model) as model, slot, built_on, times, built_on <= as_of or s.unit is not null as is_known
  from used u left join serving s using (fleet, unit), as_of
)
select fleet, model, slot, stretch, is_known, sum(times)::integer as times
from told asof join edge on built_on >= begins_on
where built_on < (select max(begins_on) from edge)
group by all;
