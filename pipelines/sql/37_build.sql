-- pipelines/sql/37_build.sql
-- visit, visit_at, card, follow_up, known_unit, hours_at -> build: each time that a unit went into service. Key: build_id (1, 2, ... by unit and time);
-- unit_id, visit_id (0: as it was before its first card). Rows: the visits that the unit is back from, and one per unit, whose start_on is null
-- where it is not known.
--   early, entry_*   it began before the records do: the time until they begin. left_out: why its age is not known
--   run_*            how far it is followed if nothing ends it: ends (retired, watched, assumed, unwatched) and when, days and tenths of an hour
--                    until then, or in run_gap why there are no hours; seen_* the same to the last evidence of any kind, null where that leaves nothing
--   next_visit       the card that ends it
create or replace temp macro tenths_between(a, b) as
  case when a.missing is null and b.missing is null and a.segment = b.segment then b.axis - a.axis end;

create or replace temp macro gap_between(a, b) as
  coalesce(a.missing, b.missing, case when a.segment < b.segment then b.broken_by when a.segment > b.segment then 'zero_or_negative_length'::reason end);

create or replace temp table build as
with unit_at as (
  select f.unit_id, f.base_on, f.base_marked, f.first_out_on, f.visits_before, f.records_begin, f.last_rebuilt_on, f.retired_on, f.watched_on, f.unwatched, f.seen_on,
         base.reading as base, base.idle as base_idle, begins.reading as begin_at, begins.idle as begin_idle, ends.reading as end_at, ends.idle as end_idle,
         as_of.reading as as_of_at, as_of.idle as as_of_idle, seen.reading as seen_at, seen.idle as seen_idle
  from follow_up f
  left join (from hours_at where role = 'base') base using (unit_id)
  left join (from hours_at where role = 'records_begin') begins using (unit_id)
  left join (from hours_at where role = 'end') ends using (unit_id)
  left join (from hours_at where role = 'as_of') as_of using (unit_id)
  left join (from hours_at where role = 'seen') seen using (unit_id)
),
started as (
  select unit_id, 0 as visit_id, 0 as visit_number, null::bigint as card_id, base_on as start_on, base_marked as start_marked,
         coalesce(base_idle, 0) as start_idle, base as start_at, base_marked = 'last_rebuilt' as is_last_rebuild,
         case when first_out_on is not null then visits_before + 1 end as next_visit, null::integer as file_id, null::integer as row
  from unit_at
  union all
  select v.unit_id, v.visit_id, v.visit_number, v.card_id, v.back_on, v.back_marked,
         v.idle_after, a.back_at, f.last_rebuilt_on between v.out_on and v.back_on,
         case when v.next_out_on is not null then v.visit_id + 1 end, v.file_id, v.row
  from visit v
  join visit_at a using (visit_id)
  join follow_up f on f.unit_id = v.unit_id
  where v.back_on is not null
),
followed as (
  select s.*, a.* exclude (unit_id, base_on, base_marked, first_out_on, last_rebuilt_on, base, base_idle), as_of,
         coalesce(start_on < records_begin, false) as early,
         case when retired_on is not null then 'retired' when watched_on > start_on then 'watched' when unwatched then 'unwatched' else 'assumed' end as ends
  from started s join unit_at a using (unit_id), as_of
),
stopped as (
  select *,
         case ends when 'retired' then retired_on when 'watched' then watched_on when 'assumed' then as_of end as run_stop_on,
         case ends when 'assumed' then as_of_idle else end_idle end as run_stop_idle,
         case ends when 'assumed' then as_of_at else end_at end as run_stop_at,
         early and not coalesce(is_last_rebuild, false) as unknown_age
  from followed
),
measured as (
  select *,
         case when early then (records_begin - start_on) - (begin_idle - start_idle) else 0 end as entry_days,
         case when early then tenths_between(start_at, begin_at) else 0 end as entry_tenths,
         (seen_on - start_on) - (seen_idle - start_idle) as seen_days, tenths_between(start_at, seen_at) as seen_tenths
  from stopped
)
select (m.unit_id + case when m.visit_id = 0 then visits_before else m.visit_id end)::integer as build_id,
       m.unit_id, m.visit_id, next_visit, start_on, start_marked, start_idle, start_at, early, m.records_begin,
       case when start_on is null or unknown_age then 'start_unknown'::reason end as left_out,
       entry_days, entry_tenths, case when early then gap_between(start_at, begin_at) end as entry_gap, early and begin_at.estimated as entry_estimated,
       ends, run_stop_on, (run_stop_on - start_on) - (run_stop_idle - start_idle) as run_days,
       tenths_between(start_at, run_stop_at) as run_tenths, gap_between(start_at, run_stop_at) as run_gap, run_stop_at.estimated as run_estimated,
       case when seen_on > start_on and seen_days > entry_days then seen_days end as seen_days,
       case when seen_on > start_on and seen_tenths > entry_tenths then seen_tenths end as seen_tenths,
       u.fleet, u.unit, coalesce(c.position, case when m.visit_id = 0 then u.position end) as position,
       coalesce(c.site, case when m.visit_id = 0 then u.site end) as site, coalesce(c.model, u.model) as model,
       m.visit_number as build_number, c.card,
       c.end_play, c.end_play_band, c.lube, c.seal_arrangement, c.ring_temperature, c.shims, coalesce(c.speed, u.speed) as speed, c.fitter, c.built_year,
       case when m.visit_id > 0 then m.file_id when start_on is not null then u.listed_source.file_id end as start_file,
       case when m.visit_id > 0 then m.row when start_on is not null then u.listed_source.row end as start_row,
       case when ends = 'retired' then u.retired_source.file_id when ends <> 'watched' then null
            when u.listed_on = u.watched_on then u.listed_source.file_id else u.read_source.file_id end as run_file,
       case when ends = 'retired' then u.retired_source.row when ends <> 'watched' then null
            when u.listed_on = u.watched_on then u.listed_source.row else u.read_source.row end as run_row
from measured m
join known_unit u using (unit_id)
left join card c on c.rowid = m.card_id;
