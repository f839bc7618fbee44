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

create or replace temp type status as enum ('failed', 'suspended', 'unknown', 'running');

create or replace temp type ended_by as enum ('rebuild', 'retirement', 'follow_up');

create or replace temp table told_row as
select v.unit_id, v.visit_id, slot_id, f.row, coalesce(v.failed_slot = f.slot, false) as named,
       v.reason = 'failure' and coalesce(v.failed_slot = f.slot, true) as caused,
       coalesce(f.fitted, false) as fitted, coalesce(f.condition = 'failed', false) as failed, coalesce(f.condition = 'worn', false) as worn,
       coalesce(f.condition = 'serviceable', false) as serviceable, f.damage_mode, f.part, f.batch
from records.fitting f
join slot using (slot)
join (
  select c.fleet, c.card, unit_id, visit_id, v.failed_slot, v.reason from visit v join card c on c.rowid = v.card_id
) v on v.fleet = f.fleet and v.card = f.card;

-- Few cards but long ones have several rows of a slot: only of them rows are put together, and of the rest of such a visit.
create or replace temp table told_often as
select visit_id from told_row group by visit_id having count(*) <> bit_count(bit_or(1::ubigint << (slot_id % 64)::ubigint));

create or replace temp view told as
select * exclude (row) from told_row anti join told_often using (visit_id)
union all
select unit_id, visit_id, slot_id, bool_or(named), bool_or(caused), bool_or(fitted), bool_or(failed), bool_or(worn), bool_or(serviceable),
       arg_min(damage_mode, row), arg_min(part, row), arg_min(batch, row)
from told_row semi join told_often using (visit_id) group by unit_id, visit_id, slot_id;

create or replace temp table span as
with opened as (
  select unit_id + visits_before as build_id, unit_id, slot_id, 0 as visit_id, true as recorded, null::status as status, null as damage_mode,
         null as part, null as batch, null as caused
  from follow_up, slot
  union all
  select unit_id + visit_id, unit_id, slot_id, visit_id, fitted,
         case when failed or (worn and $worn_is_failed::boolean) or named then 'failed'::status
              when worn or serviceable then 'suspended'::status
              when damage_mode is not null then 'failed'::status
              else 'unknown'::status end,
         damage_mode, part, batch, caused
  from told
  where fitted or failed
)
select build_id::integer as build_id, unit_id, slot_id, recorded, part, batch,
       lead(visit_id) over here as last_visit, lead(status) over here as status, lead(damage_mode) over here as damage_mode,
       $hidden_until_opened::boolean and coalesce(lead(status = 'failed'::status and not caused) over here, false) as hidden
from opened window here as (partition by unit_id, slot_id order by visit_id);

create or replace temp table inspected as
with looked_at as (
  select unit_id, slot_id, visit_id
  from told
  where $hidden_until_opened::boolean and not fitted and not failed and not named
    and case when worn then not $worn_is_failed::boolean else serviceable end
)
select s.build_id, s.slot_id, v.out_on, v.idle_before, v.out_at
from (from span where hidden) s
asof join looked_at i on i.unit_id = s.unit_id and i.slot_id = s.slot_id and i.visit_id < s.last_visit
join visit_at v on v.visit_id = i.visit_id
where i.visit_id > s.build_id - s.unit_id;

create or replace temp table life_time as
with named_slot as (
  select fleet, slot_id from (select distinct fleet, slot from records.fitting) join slot using (slot)
),
silent as (
  select unit_id, slot_id from known_unit semi join named_slot using (fleet), slot where (fleet, slot_id) not in (select (fleet, slot_id) from named_slot)
),
measured as (
  select s.build_id, s.slot_id, s.recorded, s.part, s.batch, s.damage_mode, n.slot_id is not null as is_silent,
         b.start_on, b.start_at, b.early, b.records_begin, b.left_out, b.entry_days, b.entry_tenths, b.entry_gap, b.entry_estimated, b.ends,
         b.seen_days, b.seen_tenths, s.hidden,
         (i.out_on - start_on) - (i.idle_before - start_idle) as inspected_days,
         tenths_between(start_at, i.out_at) as inspected_tenths, gap_between(start_at, i.out_at) as inspected_gap,
         s.last_visit is null as running,
         coalesce(s.status, case when b.ends = 'retired' then 'suspended'::status else 'running'::status end) as status,
         coalesce(o.out_on, b.run_stop_on) as stop_on,
         case when running then run_days else (o.out_on - start_on) - (o.idle_before - start_idle) end as ran_days,
         case when running then run_tenths else tenths_between(start_at, o.out_at) end as ran_tenths,
         case when running then run_gap else gap_between(start_at, o.out_at) end as gap,
         case when running then run_estimated else o.out_at.estimated or coalesce(i.out_at.estimated, false) end as stop_estimated,
         case when running then run_file else o.file_id end as stop_file,
         case when running then run_row else o.row end as stop_row
  from span s
  join build b using (build_id)
  left join visit_at o on o.visit_id = s.last_visit
  left join inspected i on i.build_id = s.build_id and i.slot_id = s.slot_id and i.out_on > b.start_on
  left join silent n on n.unit_id = s.unit_id and n.slot_id = s.slot_id
  where b.start_on is not null or s.last_visit is not null
),
judged as (
  select *,
         running and ends = 'assumed' as assumed_running,
         case when not running then 'rebuild'::ended_by when ends = 'retired' then 'retirement'::ended_by else 'follow_up'::ended_by end as ended_by,
         case when is_silent then 'slot_on_no_card'::reason
              when start_on is null then left_out
              when not recorded then 'replacement_not_recorded'::reason
              when running and ends = 'unwatched' then 'no_follow_up'::reason
              when early and stop_on <= records_begin then 'before_records_begin'::reason
              else left_out end as because
  from measured
),
kept as (
  select *,
         coalesce(because, case when ran_days <= entry_days then 'zero_or_negative_length'::reason end) as left_out_days,
         coalesce(because, gap, entry_gap, inspected_gap, case when ran_tenths <= entry_tenths then 'zero_or_negative_length'::reason end) as left_out_hours
  from judged
)
select build_id, slot_id, stop_on, status, ended_by,
       case when left_out_days is null then entry_days end as entry_days,
       case when left_out_days is null then ran_days end as days,
       case when left_out_hours is null then entry_tenths end::integer as entry_tenths,
       case when left_out_hours is null then ran_tenths end::integer as tenths,
       case when hidden and left_out_days is null then nullif(greatest(entry_days, inspected_days), ran_days) end as low_days,
       case when hidden and left_out_hours is null then nullif(greatest(entry_tenths, inspected_tenths), ran_tenths) end::integer as low_tenths,
       left_out_hours is null and (start_at.estimated or stop_estimated or entry_estimated) as hours_estimated, assumed_running,
       case when left_out_days is null then case when assumed_running then seen_days else ran_days end end as last_seen_days,
       case when left_out_hours is null then case when assumed_running then seen_tenths else ran_tenths end end::integer as last_seen_tenths,
       damage_mode, left_out_days, left_out_hours, part, batch, stop_file, stop_row
from kept;

drop table inspected;
drop table span;
drop view told;
drop table told_often;
drop table told_row;

create or replace temp table place as
select row_number() over (order by fleet, position)::integer as place_id, fleet, position
from (select distinct fleet, position from build where position is not null);

create or replace temp view life as
select ((build_id - 1) * (select count(*) from slot) + slot_id)::integer as life_id, b.unit_id, place_id,
       concat_ws('/', b.fleet, b.unit, slot.slot, b.build_number) as id,
       b.fleet, b.unit, slot.slot, b.position, b.site, b.model, b.build_number, b.card, b.start_on, t.stop_on, t.status::varchar as status, t.ended_by::varchar as ended_by,
       t.entry_days::double as entry_days, t.days::double as days, t.low_days::double as low_days,
       t.entry_tenths / 10 as entry_hours, t.tenths / 10 as hours, t.low_tenths / 10 as low_hours, t.hours_estimated, b.start_marked, t.assumed_running,
       t.last_seen_days::double as last_seen_days, t.last_seen_tenths / 10 as last_seen_hours,
       t.damage_mode, t.left_out_days::varchar as left_out_days, t.left_out_hours::varchar as left_out_hours,
       b.end_play, b.end_play_band, b.lube, b.seal_arrangement, t.part, t.batch, b.ring_temperature, b.shims, b.speed, b.fitter, b.built_year,
       b.start_file, b.start_row, t.stop_file, t.stop_row
from life_time t join build b using (build_id) join slot using (slot_id) left join place on place.fleet = b.fleet and place.position = b.position;
