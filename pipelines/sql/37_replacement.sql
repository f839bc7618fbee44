-- pipelines/sql/37_replacement.sql
-- records.fitting, visit -> replacement: what each visit did to a slot, and what came out. Key: visit_id, slot_id. Rows: the slots that a card
-- says were fitted, and those where a component failed and no new one is on record (recorded = false).
-- slot: the declared slots. Key: slot_id (1, 2, ... as declared).
create or replace temp table slot as
select generate_subscripts(names, 1)::integer as slot_id, unnest(names) as slot
from (select from_json($slots, '["VARCHAR"]') as names);

create or replace temp table replacement as
with told as (
  select v.visit_id, v.unit_id, s.slot_id, any_value(v.failed_slot = s.slot) as named,
         coalesce(bool_or(f.fitted), false) as fitted,
         coalesce(bool_or(f.condition = 'failed'), false) as failed,
         coalesce(bool_or(f.condition = 'worn'), false) as worn,
         coalesce(bool_or(f.condition = 'serviceable'), false) as serviceable,
         arg_min(f.damage_mode, f.row) as damage_mode, arg_min(f.part, f.row) as part, arg_min(f.batch, f.row) as batch
  from records.fitting f
  join visit v on v.fleet = f.fleet and v.card = f.card
  join slot s on s.slot = f.slot
  group by v.visit_id, v.unit_id, s.slot_id
)
select visit_id, unit_id, slot_id, fitted as recorded,
       case when failed or (worn and $worn_is_failed::boolean) or named then 'failed'
            when worn or serviceable then 'suspended'
            when damage_mode is not null then 'failed'
            else 'unknown' end as status,
       damage_mode, part, batch
from told
where fitted or failed;
