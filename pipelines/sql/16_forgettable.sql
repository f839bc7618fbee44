-- pipelines/sql/16_forgettable.sql
-- landing.file, records.version -> temp table forgettable: files that are gone, with all their older states, and of files in their place
-- those older states that hold a record of which the newest state has no version. It need not be the version that counts: another one,
-- of a state that says the same or of a file that is gone, may have counted in its stead, and it would count next. Key: file_id.
-- Rows: as many as there are of these.
create or replace temp table forgettable as
with state as (
  select file_id, file.path, file.sheet, file.state, file.record, bool_or(file.state = 'gone') over here as is_gone, max(file_id) over here as newest
  from landing.file file window here as (partition by file.path, file.sheet, file.pipeline)
)
select file_id, path, sheet, false as older from state where is_gone
union
select distinct file_id, path, sheet, true
from state old join records.version v using (file_id, record)
where old.state = 'replaced' and not is_gone
  and not exists (from records.version newer where newer.file_id = newest and newer.record = v.record and newer.key = v.key);
