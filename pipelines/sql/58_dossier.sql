-- pipelines/sql/58_dossier.sql
-- installation, life, known_unit, $fleet, $kind, $ids -> dossier_build (a temp table): the builds of each frame (or at each position) asked for.
-- Key: asked, own, id. Rows: one per build, of each asked the latest $most own ones and as many of its neighbours; in_all counts them all.
-- own: its own; else a neighbour's: of a frame the builds of other frames at its positions, of a position those of its frames elsewhere.
-- retired: it ran until its frame was taken out of use. start_marked: what its start is the day of, as in life.
create or replace temp table dossier_build as
with asked as (
  select distinct unnest(from_json($ids, '["VARCHAR"]')) as asked
),
build as (
  select i.*, case when $kind = 'unit' then unit else position end as entity, case when $kind = 'unit' then position else unit end as shared,
         coalesce(ends = 'end' and stop_on = retired_on, false) as retired, start_marked
  from installation i
  left join (select fleet, unit, retired_on from known_unit) using (fleet, unit)
  left join (
    select fleet, unit, build_number, any_value(start_marked) as start_marked from life where fleet = $fleet group by all
  ) using (fleet, unit, build_number)
  where fleet = $fleet
),
meeting as (
  select distinct asked, shared from asked join build on entity = asked where shared is not null
),
found as (
  select asked, true as own, b.* from asked join build b on entity = asked
  union all
  select asked, false, b.* from meeting join build b using (shared) where entity is distinct from asked
)
select *, (count(*) over whole)::integer as in_all
from found
window whole as (partition by asked, own)
qualify row_number() over (partition by asked, own order by start_on desc nulls last, stop_on desc, unit, build_number desc) <= $most;

-- dossier_build, records.rebuild -> dossier_card (a temp table): the cards that began and ended own builds. Key: id, at_end. Rows: one or
-- two per own build; none at the start of one that no card began, none at the end of one that still runs.
create or replace temp table dossier_card as
with own as (
  select distinct id, fleet, unit, card, ends, stop_file, stop_row from dossier_build where own
)
select id, fleet, card, false as at_end, null::varchar as failed_slot from own where card is not null
union all
select id, fleet, r.card, true, failed_slot
from own join records.rebuild r using (fleet, unit) where ends <> 'end' and r.file_id = stop_file and r.row = stop_row;

-- dossier_card, records.fitting -> dossier_part (a temp table): what these cards say of each slot: at the start of a build what went in, at its
-- end what was found. Key: id, at_end, slot. Rows: one per card and slot of which it says anything.
create or replace temp table dossier_part as
select id, at_end, slot, bool_or(fitted) as fitted, any_value(condition order by row) as condition,
       any_value(damage_mode order by row) as damage_mode, any_value(part order by row) as part, any_value(batch order by row) as batch
from dossier_card join records.fitting using (fleet, card)
group by id, at_end, slot;
