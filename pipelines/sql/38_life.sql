-- pipelines/sql/38_life.sql
-- replacement, visit, follow_up, hours_at, known_unit -> life: one component's time in one slot. Key: life_id. Rows: one per replacement whose unit was
-- back in service by the as-of date, and one per unit and declared slot for what was in it before; of that, where its start is not known, only what came out.
-- A life that can't be used in a clock has left_out_days or left_out_hours, and no time in that clock.
create or replace temp macro tenths_between(a, b) as
  case when a.missing is null and b.missing is null and a.segment = b.segment then b.axis - a.axis end;

create or replace temp macro gap_between(a, b) as
  coalesce(a.missing, b.missing, case when a.segment <> b.segment then b.broken_by end);

create or replace temp table life as
with opened as (
  select unit_id, slot_id, 0 as visit_id, true as recorded, null as status, null as damage_mode, null as part, null as batch from follow_up, slot
  union all
  select unit_id, slot_id, visit_id, recorded, status, damage_mode, part, batch from replacement
),
span as (
  select unit_id, slot_id, visit_id as first_visit, recorded, part, batch,
         lead(visit_id) over here as last_visit, lead(status) over here as status, lead(damage_mode) over here as damage_mode
  from opened window here as (partition by unit_id, slot_id order by visit_id)
),
unit_at as (
  select unit_id,
         any_value(reading) filter (role = 'base') as base, coalesce(any_value(idle) filter (role = 'base'), 0) as base_idle,
         any_value(reading) filter (role = 'records_begin') as begin_at, any_value(idle) filter (role = 'records_begin') as begin_idle,
         any_value(reading) filter (role = 'end') as end_at, any_value(idle) filter (role = 'end') as end_idle,
         any_value(reading) filter (role = 'as_of') as as_of_at, any_value(idle) filter (role = 'as_of') as as_of_idle,
         any_value(reading) filter (role = 'seen') as seen, any_value(idle) filter (role = 'seen') as seen_idle
  from hours_at where visit_id = 0 group by unit_id
),
started as (
  select p.*, f.retired_on, f.watched_on, f.unwatched, f.records_begin, f.seen_on, f.visits_before,
         case when first_visit = 0 then f.base_on else s.back_on end as start_on,
         case when first_visit = 0 then f.base_marked else s.back_marked end as start_marked,
         case when first_visit = 0 then base_idle else s.idle_after end as start_idle,
         case when first_visit = 0 then a.base else b.reading end as start_at,
         case when first_visit = 0 then f.base_marked = 'last_rebuilt'
              else f.last_rebuilt_on between s.out_on and s.back_on end as rebuild_is_last
  from span p
  join follow_up f using (unit_id)
  join unit_at a using (unit_id)
  left join visit s on s.visit_id = p.first_visit
  left join (from hours_at where role = 'back') b on b.visit_id = p.first_visit
  where case when first_visit = 0 then f.base_on is not null or last_visit is not null else s.back_on is not null end
),
followed as (
  select *, case when last_visit is not null then 'card' when retired_on is not null then 'retired' when watched_on > start_on then 'watched'
                 when unwatched then 'unwatched' else 'assumed' end as ends
  from started
),
stopped as (
  select p.* exclude (status), coalesce(p.status, case when ends = 'retired' then 'suspended' else 'running' end) as status,
         case ends when 'card' then e.out_on when 'retired' then retired_on when 'watched' then watched_on when 'assumed' then as_of end as stop_on,
         case ends when 'card' then e.idle_before when 'assumed' then a.as_of_idle else a.end_idle end as stop_idle,
         case ends when 'card' then o.reading when 'assumed' then a.as_of_at else a.end_at end as stop_at,
         a.begin_at, a.begin_idle, a.seen, a.seen_idle, e.file_id as card_file, e.row as card_row,
         start_on < records_begin as early
  from followed p
  join as_of on true
  join unit_at a using (unit_id)
  left join visit e on e.visit_id = p.last_visit
  left join (from hours_at where role = 'out') o on o.visit_id = p.last_visit
),
measured as (
  select *,
         (stop_on - start_on) - (stop_idle - start_idle) as ran_days,
         tenths_between(start_at, stop_at) as ran_tenths,
         case when early then (records_begin - start_on) - (begin_idle - start_idle) else 0 end as begin_days,
         case when early then tenths_between(start_at, begin_at) else 0 end as begin_tenths,
         case when start_on is null then 'start_unknown'
              when not recorded then 'replacement_not_recorded'
              when ends = 'unwatched' then 'no_follow_up'
              when early and stop_on <= records_begin then 'before_records_begin'
              when early and not coalesce(rebuild_is_last, false) then 'start_unknown' end as left_out
  from stopped
),
judged as (
  select *,
         coalesce(left_out, case when ran_days <= begin_days then 'zero_or_negative_length' end) as left_out_days,
         coalesce(left_out, gap_between(start_at, stop_at), case when early then gap_between(start_at, begin_at) end,
                  case when ran_tenths <= begin_tenths then 'zero_or_negative_length' end) as left_out_hours,
         ends = 'assumed' as assumed_running,
         seen_on > start_on and (not early or seen_on > records_begin) as is_seen
  from measured
)
select ((j.unit_id + case when first_visit = 0 then j.visits_before else first_visit end - 1) * (select count(*) from slot) + slot_id)::integer as life_id,
       u.fleet, u.unit, slot.slot,
       coalesce(s.position, u.position) as position, coalesce(s.site, u.site) as site, coalesce(s.model, u.model) as model,
       coalesce(s.visit_number, 0)::integer as build_number, s.card, start_on, stop_on, status,
       case when left_out_days is null then begin_days end::double as entry_days,
       case when left_out_days is null then ran_days end::double as days,
       case when left_out_hours is null then begin_tenths / 10 end::double as entry_hours,
       case when left_out_hours is null then ran_tenths / 10 end::double as hours,
       left_out_hours is null and (start_at.estimated or stop_at.estimated or coalesce(early and begin_at.estimated, false)) as hours_estimated,
       start_marked, assumed_running,
       case when left_out_days is not null then null
            when not assumed_running then ran_days
            when is_seen then (seen_on - start_on) - (seen_idle - start_idle) end::double as last_seen_days,
       case when left_out_hours is not null then null
            when not assumed_running then ran_tenths / 10
            when is_seen and tenths_between(start_at, seen) > begin_tenths then tenths_between(start_at, seen) / 10 end::double as last_seen_hours,
       damage_mode, left_out_days, left_out_hours,
       s.end_play, s.end_play_band, s.lube, s.seal_arrangement, part, batch, s.ring_temperature, s.shims,
       coalesce(s.speed, u.speed) as speed, s.fitter, s.built_year,
       case when first_visit > 0 then s.file_id when start_on is not null then u.listed_source.file_id end as start_file,
       case when first_visit > 0 then s.row when start_on is not null then u.listed_source.row end as start_row,
       case ends when 'card' then card_file when 'retired' then u.retired_source.file_id
                 when 'watched' then case when u.listed_on = j.watched_on then u.listed_source.file_id else u.read_source.file_id end end as stop_file,
       case ends when 'card' then card_row when 'retired' then u.retired_source.row
                 when 'watched' then case when u.listed_on = j.watched_on then u.listed_source.row else u.read_source.row end end as stop_row
from judged j
join known_unit u using (unit_id)
join slot using (slot_id)
left join visit s on s.visit_id = j.first_visit;
