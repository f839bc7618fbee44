-- installation, known_unit, records.rebuild, records.fitting, source_name -> registered_build (a temp table): every build of every frame of $fleet, shortly.
-- Key: unit, build_number. Rows: those of installation.
--   retired              it ran until its frame was taken out of use
--   failed_slot, found   what the card that ended the build says; found: the slots that had failed, were worn or damaged, each as slot, condition
--                        and damage mode with chr(30) between them, and chr(31) between slots
--   start_name, stop_name   files of its start and its end as "framelife trace" takes them; start_row, stop_row their rows
create or replace temp table registered_build as
with bad as (
  select fleet, card, slot, arg_min(condition, row) as condition, arg_min(damage_mode, row) as damage_mode
  from records.fitting where (damage_mode is not null or condition in ('failed', 'worn')) and fleet = $fleet group by fleet, card, slot
),
told as (
  -- Sorted lists are far quicker than sorted aggregates over so many groups.
  select fleet, card, array_to_string(list_sort(list(concat_ws(chr(30), slot, coalesce(condition, ''), coalesce(damage_mode, '')))), chr(31)) as found
  from bad group by fleet, card
),
ended as (
  select r.fleet, r.file_id as stop_file, r.row as stop_row, r.failed_slot, t.found
  from records.rebuild r left join told t using (fleet, card) where fleet = $fleet
)
select i.fleet, i.unit, i.build_number, i.position, i.model, i.start_on, i.stop_on, i.ends, i.assumed_running, coalesce(i.ends = 'end' and i.stop_on = k.retired_on, false) as retired, i.end_play, i.lube,
       e.failed_slot, e.found, s.name as start_name, i.start_row, t.name as stop_name, i.stop_row
from installation i
left join known_unit k on k.fleet = i.fleet and k.unit = i.unit
left join ended e on e.fleet = i.fleet and e.stop_file = i.stop_file
  and e.stop_row = case when i.ends <> 'end' then i.stop_row end -- A condition on one side alone would make the engine compare each row with each.
left join source_name s on s.file_id = i.start_file
left join source_name t on t.file_id = i.stop_file
where i.fleet = $fleet
order by i.unit, i.build_number;

-- known_unit, registered_build -> registered_frame (a temp table): every frame of $fleet, how often it was rebuilt and how it stands. Key: unit.
-- Rows: those of known_unit. position, since, followed_to, assumed_running: of its latest build; runs: that build has not ended, nor was it retired.
create or replace temp table registered_frame as
with counted as (
  select fleet, unit, count(*)::integer as builds, count(*) filter (ends = 'failure')::integer as failures,
         max(stop_on) filter (ends <> 'end') as last_out, string_agg(distinct model, ', ' order by model) as models,
         max({build_number: build_number, position: position, since: start_on, followed_to: stop_on, ends: ends, assumed_running: assumed_running}) as latest
  from registered_build group by fleet, unit
)
select k.fleet, k.unit, coalesce(c.models, k.model) as models, coalesce(builds, 0) as builds, coalesce(failures, 0) as failures, last_out,
       coalesce(latest.position, case when c.unit is null then k.position end) as position, latest.since, latest.followed_to, retired_on,
       coalesce(latest.ends = 'end' and retired_on is null, false) as runs, coalesce(latest.assumed_running, false) as assumed_running
from known_unit k left join counted c using (fleet, unit)
where k.fleet = $fleet
order by k.unit;

-- registered_build, registered_frame -> registered_position (a temp table): every position, what ran there and how it stands.
-- Key: position. Rows: one per position at which a build is on record. unit, since, followed_to: of the build there that began last;
-- runs: that build has not ended, nor was its frame retired.
create or replace temp table registered_position as
with counted as (
  select fleet, position, count(*)::integer as builds, count(distinct unit)::integer as frames, count(*) filter (ends = 'failure')::integer as failures,
         max({began: coalesce(start_on, '-infinity'::date), followed_to: stop_on, unit: unit, since: start_on, ends: ends}) as latest
  from registered_build where position is not null group by fleet, position
)
select c.fleet, c.position, c.builds, frames, c.failures, latest.unit, latest.since, latest.followed_to, latest.ends = 'end' and retired_on is null as runs
from counted c join registered_frame f on f.fleet = c.fleet and f.unit = latest.unit
order by c.position;
