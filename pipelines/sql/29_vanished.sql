-- pipelines/sql/29_vanished.sql
-- records.version, landing.file, seen_file -> found: current records of an export in whose place a newer one came that lacks them.
-- Key: file_id, row. Rows: one a source row.
insert into found
with state as (
  select file_id, state, record, path, max(file_id) over place as newest
  from landing.file window place as (partition by path, sheet, pipeline)
),
old as (
  select v.record, v.file_id, v.row, v.key, newest, path
  from records.version v join state using (file_id, record)
  where state.state = 'replaced' and v.standing = 'current'
),
newer as (
  select v.record, v.file_id as newest, v.key from records.version v semi join (select distinct newest as file_id from old) using (file_id)
)
select record, file_id, row, 'row', null, 'vanished_row',
       'the newer export in place of ' || path || ' lacks this record, or has it in quarantine; it is still counted; if it is to go, run "framelife ingest --forget", else put it back into the export'
from old anti join newer using (record, newest, key);
