-- pipelines/sql/14_places.sql
-- landing.file -> the same with the places that its files have in the pipelines now; $places as JSON, key path, sheet, pipeline. A file
-- of the $pipelines read that none of them finds any more is gone. Temp table moved: one row if the order of files has changed by it.
create or replace temp table order_before as from landing.file_order;

create or replace temp table place as
select unnest(from_json($places, '[{"path": "VARCHAR", "sheet": "VARCHAR", "pipeline": "VARCHAR", "pipeline_place": "INTEGER", "pattern_place": "INTEGER", "sheet_place": "INTEGER"}]'), recursive := true);

update landing.file f
set pipeline_place = p.pipeline_place, pattern_place = p.pattern_place, sheet_place = p.sheet_place
from place p where p.path = f.path and p.sheet is not distinct from f.sheet and p.pipeline = f.pipeline
  and (f.pipeline_place, f.pattern_place, f.sheet_place) is distinct from (p.pipeline_place, p.pattern_place, p.sheet_place);

-- The latest of the files that came from one place is there again when the place is.
update landing.file f set state = case when found then 'there' else 'gone' end
from (
  select file_id, exists (from place p where p.path = l.path and p.sheet is not distinct from l.sheet and p.pipeline = l.pipeline) as found
  from landing.file l where state <> 'replaced' and ($all or list_contains(from_json($pipelines, '["VARCHAR"]'), l.pipeline))
) seen
where seen.file_id = f.file_id and f.state is distinct from case when found then 'there' else 'gone' end;

create or replace temp table moved as
select 1 from order_before b join landing.file_order a using (file_id) where a.rank <> b.rank limit 1;

update landing.checked set made_with = null where exists (from moved);

drop table order_before;
drop table place;
