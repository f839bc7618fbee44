-- pipelines/sql/38_life.sql
-- records.fitting, card, visit, build, hours_at -> life: one component's time in one slot. Key: life_id. Rows: one per build and slot into which a card says that
-- a component was fitted, or in which one failed and no new one is on record; and one per unit and declared slot for what was in it before
-- its first card: of that, where its start is not known, only what came out.
-- A slot that no card of the fleet ever names has no lives to use: nobody would have written of its failures (slot_on_no_card).
-- A life that can't be used in a clock has left_out_days or left_out_hours, and no time in that clock.
-- low_days, low_hours: with $hidden_until_opened, the age at which a component was last known unfailed that failed and was not what the unit was taken
-- out for: the last time that it was looked at and left in, else where it came under observation. Null where the ending is exact or no failure.
-- slot: the declared slots. Key: slot_id (1, 2, ... as declared). span: from which visit to which. Key: unit_id, slot_id, first_visit.
--   hidden       it failed at an age that is not known; inspected_visit: when it was last looked at before
-- life is a view: what the build tells of all its slots (life_time has the rest) is kept once. `id` names a life for people; unit_id and
-- place_id number its unit and its position. place: the positions. Key: place_id (1, 2, ... by fleet and position); fleet, position.
create or replace temp table slot as
select generate_subscripts(names, 1)::integer as slot_id, unnest(names) as slot
from (select from_json($slots, '["VARCHAR"]') as names);

create or replace temp table span as
with told as (
  select v.visit_id, v.unit_id, s.slot_id, any_value(v.failed_slot = s.slot) as named,
         any_value(v.reason = 'failure' and coalesce(v.failed_slot = s.slot, true)) as caused,
         coalesce(bool_or(f.fitted), false) as fitted,
         coalesce(bool_or(f.condition = 'failed'), false) as failed,
         coalesce(bool_or(f.condition = 'worn'), false) as worn,
         coalesce(bool_or(f.condition = 'serviceable'), false) as serviceable,
         arg_min(f.damage_mode, f.row) as damage_mode, arg_min(f.part, f.row) as part, arg_min(f.batch, f.row) as batch
  from records.fitting f
  join card c on c.fleet = f.fleet and c.card = f.card
  join visit v on v.card_id = c.card_id
  join slot s on s.slot = f.slot
  group by v.visit_id, v.unit_id, s.slot_id
),
opened as (
  select unit_id, slot_id, 0 as visit_id, true as recorded, null as status, null as damage_mode, null as part, null as batch, null as caused
  from follow_up, slot
  union all
  select unit_id, slot_id, visit_id, fitted,
         case when failed or (worn and $worn_is_failed::boolean) or named then 'failed'
              when worn or serviceable then 'suspended'
              when damage_mode is not null then 'failed'
              else 'unknown' end,
         damage_mode, part, batch, caused
  from told
  where fitted or failed
),
ended as (
  select unit_id, slot_id, visit_id as first_visit, recorded, part, batch,
         lead(visit_id) over here as last_visit, lead(status) over here as status, lead(damage_mode) over here as damage_mode,
         $hidden_until_opened::boolean and coalesce(lead(status = 'failed' and not caused) over here, false) as hidden
  from opened window here as (partition by unit_id, slot_id order by visit_id)
),
inspected as (
  select unit_id, slot_id, visit_id
  from told
  where $hidden_until_opened::boolean and not fitted and not failed and named is not true
    and case when worn then not $worn_is_failed::boolean else serviceable end
)
select e.*, case when hidden and i.visit_id > e.first_visit then i.visit_id end as inspected_visit
from ended e asof left join inspected i on i.unit_id = e.unit_id and i.slot_id = e.slot_id and i.visit_id < e.last_visit;

create or replace temp table life_time as
with seen_slot as (
  select distinct f.fleet, slot.slot_id from records.fitting f join slot using (slot)
),
taken_out as (
  select v.visit_id, v.out_on, v.idle_before, v.file_id, v.row, h.reading
  from visit v join hours_at h on h.visit_id = v.visit_id and h.role = 'out'
),
measured as (
  select b.build_id, b.fleet, s.slot_id, s.recorded, s.part, s.batch, s.damage_mode,
         b.start_on, b.start_at, b.early, b.records_begin, b.left_out, b.entry_days, b.entry_tenths, b.entry_gap, b.entry_estimated, b.ends,
         b.seen_days, b.seen_tenths, s.hidden,
         (i.out_on - start_on) - (i.idle_before - start_idle) as inspected_days,
         tenths_between(start_at, i.reading) as inspected_tenths, gap_between(start_at, i.reading) as inspected_gap,
         s.last_visit is null as running,
         coalesce(s.status, case when b.ends = 'retired' then 'suspended' else 'running' end) as status,
         coalesce(o.out_on, b.run_stop_on) as stop_on,
         case when running then run_days else (o.out_on - start_on) - (o.idle_before - start_idle) end as ran_days,
         case when running then run_tenths else tenths_between(start_at, o.reading) end as ran_tenths,
         case when running then run_gap else gap_between(start_at, o.reading) end as gap,
         case when running then run_estimated else o.reading.estimated or coalesce(i.reading.estimated, false) end as stop_estimated,
         case when running then run_file else o.file_id end as stop_file,
         case when running then run_row else o.row end as stop_row
  from span s
  join build b on b.unit_id = s.unit_id and b.visit_id = s.first_visit
  left join taken_out o on o.visit_id = s.last_visit
  left join taken_out i on i.visit_id = s.inspected_visit and i.out_on > b.start_on
  where b.start_on is not null or s.last_visit is not null
),
judged as (
  select *,
         running and ends = 'assumed' as assumed_running,
         case when not running then 'rebuild' when ends = 'retired' then 'retirement' else 'follow_up' end as ended_by,
         case when fleet in (select fleet from seen_slot) and (fleet, slot_id) not in (select (fleet, slot_id) from seen_slot) then 'slot_on_no_card'
              when start_on is null then left_out
              when not recorded then 'replacement_not_recorded'
              when running and ends = 'unwatched' then 'no_follow_up'
              when early and stop_on <= records_begin then 'before_records_begin'
              else left_out end as because
  from measured
),
kept as (
  select *,
         coalesce(because, case when ran_days <= entry_days then 'zero_or_negative_length' end) as left_out_days,
         coalesce(because, gap, entry_gap, inspected_gap, case when ran_tenths <= entry_tenths then 'zero_or_negative_length' end) as left_out_hours
  from judged
)
select build_id, slot_id, stop_on, status, ended_by,
       case when left_out_days is null then entry_days end::double as entry_days,
       case when left_out_days is null then ran_days end::double as days,
       case when left_out_hours is null then entry_tenths / 10 end::double as entry_hours,
       case when left_out_hours is null then ran_tenths / 10 end::double as hours,
       case when hidden and left_out_days is null then nullif(greatest(entry_days, inspected_days), ran_days) end::double as low_days,
       case when hidden and left_out_hours is null then nullif(greatest(entry_tenths, inspected_tenths), ran_tenths) / 10 end::double as low_hours,
       left_out_hours is null and (start_at.estimated or stop_estimated or entry_estimated) as hours_estimated, assumed_running,
       case when left_out_days is null then case when assumed_running then seen_days else ran_days end end::double as last_seen_days,
       case when left_out_hours is null then case when assumed_running then seen_tenths else ran_tenths end / 10 end::double as last_seen_hours,
       damage_mode, left_out_days, left_out_hours, part, batch, stop_file, stop_row
from kept;

create or replace temp table place as
select row_number() over (order by fleet, position)::integer as place_id, fleet, position
from (select distinct fleet, position from build where position is not null);

create or replace temp view life as
select ((build_id - 1) * (select count(*) from slot) + slot_id)::integer as life_id, b.unit_id, place_id,
       concat_ws('/', b.fleet, b.unit, slot.slot, b.build_number) as id,
       b.fleet, b.unit, slot.slot, b.position, b.site, b.model, b.build_number, b.card, b.start_on, t.stop_on, t.status, t.ended_by,
       t.entry_days, t.days, t.low_days, t.entry_hours, t.hours, t.low_hours, t.hours_estimated, b.start_marked, t.assumed_running, t.last_seen_days, t.last_seen_hours,
       t.damage_mode, t.left_out_days, t.left_out_hours,
       b.end_play, b.end_play_band, b.lube, b.seal_arrangement, t.part, t.batch, b.ring_temperature, b.shims, b.speed, b.fitter, b.built_year,
       b.start_file, b.start_row, t.stop_file, t.stop_row
from life_time t join build b using (build_id) join slot using (slot_id) left join place on place.fleet = b.fleet and place.position = b.position;
