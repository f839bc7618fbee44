-- pipelines/sql/33_visit.sql
-- card, known_unit -> visit: each stay of a unit in the shop that began by the as-of date. Key: visit_id (1, 2, ... by unit and time).
-- Rows: the cards with out_on up to the as-of date. back_on is null where the unit had not gone back by then.
-- idle_before, idle_after: days that the unit has spent out of service up to out_on, and with this stay; overlapping stays count once.
create or replace temp table visit as
with stay as (
  select unit_id, card_id, card, out_on, case when back_on <= as_of then back_on end as back_on
  from card join known_unit using (fleet, unit), as_of
  where out_on <= as_of
),
numbered as (
  select *, row_number() over (order by unit_id, out_on, back_on nulls last, card)::integer as visit_id from stay
),
idle as (
  select *, lead(out_on) over unit as next_out_on, coalesce(least(back_on, lead(out_on) over unit) - out_on, 0) as idle,
         row_number() over unit::integer as visit_number
  from numbered
  window unit as (partition by unit_id order by visit_id)
)
select unit_id, visit_id, visit_number, card_id, out_on, idle.back_on, next_out_on,
       (sum(idle) over unit)::integer as idle_after,
       (sum(idle) over unit - idle)::integer as idle_before,
       c.back_marked, c.hours_removed, c.hours_installed, c.reason, c.failed_slot, c.file_id, c.row
from idle join card c using (card_id, out_on)
window unit as (partition by unit_id order by visit_id rows unbounded preceding);
