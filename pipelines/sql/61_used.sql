-- pipelines/sql/61_used.sql
-- records.rebuild, records.fitting -> used (a temp table): what frames were opened and what was put in, by the day on which they were built.
-- Key: fleet, unit, model, built_on, slot; slot is null of the opening itself. Rows: one per frame, day and slot that got something.
-- From $from_on to before $to_on. month: the first of the month in which it was built.
create or replace temp table used as
with built as (
  select fleet, card, unit, model, coalesce(built_on, installed_on, removed_on, received_on) as built_on
  from records.rebuild where (built_on is not null or installed_on is not null) and ($fleet is null or fleet = $fleet)
),
told as (
  select b.fleet, b.unit, b.model, b.built_on, null::varchar as slot from built b
  union all
  select b.fleet, b.unit, b.model, b.built_on, slot
  from built b join (select fleet, card, slot, bool_or(fitted) as fitted from records.fitting group by all) f using (fleet, card) where fitted
)
select fleet, unit, model, built_on, date_trunc('month', built_on)::date as month, slot, count(*)::integer as times
from told where built_on >= $from_on::date and built_on < $to_on::date
group by all;
