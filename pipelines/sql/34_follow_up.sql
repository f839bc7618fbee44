-- pipelines/sql/34_follow_up.sql
-- known_unit, visit -> follow_up: from when to when each unit is watched. Key: unit_id. Rows: as known_unit.
--   base_on       start of what was in the unit before its first card: the last rebuild known from outside, else commissioning
--   origin_on     where the unit's own age counts from: commissioning, else the first start that is known
--   observed_on   from here every rebuild of the unit is on record
--   retired_on    where no card follows it
--   unwatched     the fleet has a list of units in service, and this one is neither on it nor read
--   watched_on    where watching by lists and meter rounds ended; null where it lapsed over 100 days before the fleet's last card: to stop
--                 running lives there, and still count the failures after it, would shorten every life
--   seen_on       last evidence of any kind
create or replace temp table follow_up as
with lapsed as (
  select u.fleet, coalesce(max(v.out_on) > max(u.watched_on) + 100, false) as has_lapsed
  from known_unit u left join visit v using (unit_id) group by u.fleet
),
visited as (
  select unit_id, min(out_on) as first_out_on, max(out_on) as last_out_on, min(back_on) as first_back_on, max(visit_id) as last_visit_id,
         max(greatest(out_on, back_on)) as last_card_on, arg_max(back_on is null, visit_id) as in_shop
  from visit group by unit_id
),
based as (
  select u.*, has_lapsed, v.* exclude (unit_id),
         case when (v.first_out_on is null or u.last_rebuilt_on < v.first_out_on)
               and (u.commissioned_on is null or u.last_rebuilt_on >= u.commissioned_on) then u.last_rebuilt_on end as rebuilt_on
  from known_unit u join lapsed using (fleet) left join visited v using (unit_id)
),
started as (
  select *, coalesce(rebuilt_on, commissioned_on) as base_on,
         case when rebuilt_on is not null then 'last_rebuilt' when commissioned_on is not null then 'commissioned' end as base_marked
  from based
),
placed as (
  select *, case when base_on < first_out_on or first_out_on is null then base_on end as sound_base_on from started
)
select unit_id, first_out_on, last_out_on, coalesce(in_shop, false) as in_shop,
       base_on, base_marked, sound_base_on,
       case when sound_base_on is null then first_back_on else least(commissioned_on, sound_base_on) end as origin_on,
       greatest(coalesce(sound_base_on, first_back_on), records_begin) as observed_on,
       records_begin, last_rebuilt_on, case when not has_lapsed then watched_on end as watched_on,
       case when last_out_on is null or retired_on >= last_out_on then retired_on end as retired_on,
       fleet_is_listed and not has_lapsed and listed_on is null and read_on is null as unwatched,
       greatest(last_card_on, watched_on, commissioned_on) as seen_on,
       coalesce(max(last_visit_id) over (order by unit_id rows between unbounded preceding and 1 preceding), 0) as visits_before
from placed;
