-- pipelines/sql/16_forgettable.sql
-- landing.file, records.version -> temp table forgettable: files that are gone, with all their older states, and older states of a file
-- that hold current records of which its newest state has no version. Key: file_id. Rows: as many as there are of these.
create or replace temp table forgettable as
select f.file_id, f.path, false as older from landing.file f
where exists (
  from landing.file g
  where g.state = 'gone' and g.path = f.path and g.sheet is not distinct from f.sheet and g.pipeline = f.pipeline
)
union
select distinct old.file_id, old.path, true
from landing.file old join records.version v using (file_id)
where old.state = 'replaced' and v.standing = 'current'
  and not exists (
    from landing.file g
    where g.state = 'gone' and g.path = old.path and g.sheet is not distinct from old.sheet and g.pipeline = old.pipeline
  )
  and not exists (
    from records.version newer join landing.file f using (file_id)
    where newer.record = v.record and newer.key = v.key
      and f.path = old.path and f.sheet is not distinct from old.sheet and f.pipeline = old.pipeline and f.file_id > old.file_id
  );
