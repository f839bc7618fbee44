-- pipelines/sql/33_visit.sql
-- card, known_unit -> visit: each stay of a unit in the shop that began by the as-of date. Key: visit_id (1, 2, ... by unit and time).
-- card_id: the rowid of its card. Rows: the cards with out_on up to the as-of date. back_on is null where the unit had not gone back by then: of the unit's last card, also
-- where the fleet's cards tell when units went back, this one does not, and no list or meter round has seen the unit since. Such a frame
-- stands in the shop or on the shelf.
-- idle_before, idle_after: days that the unit has spent out of service up to out_on, and with this stay; overlapping stays count once.
create or replace temp table visit as
with told as (
  select fleet, bool_or(back_marked = 'installed') as installs, bool_or(back_marked <> 'removed') as builds from card group by fleet
),
stay as (
  select unit_id, c.rowid as card_id, card, out_on, case when back_on <= as_of then back_on end as back_on,
         case back_marked when 'installed' then true when 'built' then not installs else not builds end as is_told, watched_on
  from card c join known_unit using (fleet, unit) join told using (fleet), as_of
  where out_on <= as_of
),
numbered as (
  select *, row_number() over stays::integer as visit_id, case when lead(unit_id) over stays = unit_id then lead(out_on) over stays end as next_out_on
  from stay window stays as (order by unit_id, out_on, back_on nulls last, card)
),
followed as (
  select unit_id, visit_id, card_id, out_on, next_out_on,
         case when is_told or watched_on > back_on or next_out_on is not null then back_on end as back_on
  from numbered
),
idle as (
  select *, coalesce(least(back_on, next_out_on) - out_on, 0) as idle from followed
)
select unit_id, visit_id, row_number() over unit::integer as visit_number, card_id, idle.out_on, idle.back_on, next_out_on,
       (sum(idle) over unit)::integer as idle_after,
       (sum(idle) over unit - idle)::integer as idle_before,
       c.back_marked, c.hours_removed, c.hours_installed, c.reason, c.failed_slot, c.file_id, c.row
from idle join card c on c.rowid = card_id
window unit as (partition by unit_id order by visit_id rows unbounded preceding);
