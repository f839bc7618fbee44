-- pipelines/sql/50_noted.sql
-- landing.file -> source_name (a view): what people call each file, to trace its rows by. Key: file_id. Rows: those of landing.file.
-- The path, with the sheet where it has one; with the beginning of its hash where other bytes have come in its place.
create or replace temp view source_name as
select file_id, rank, path, sheet,
       concat_ws('#', path, sheet) || case when sha256 <> arg_max(sha256, file_id) over (partition by path, sheet) then '@' || left(sha256, 8) else '' end as name
from landing.file join landing.file_order using (file_id);

-- quarantine.finding, landing.change -> noted (a view): everything that ingest had to say of a row, a value or a column; a change is a fix.
-- Key: none. Rows: those of both. `trace` is what "framelife trace" takes; `after` is what was recorded in place of the value.
create or replace temp view noted as
select file_id, rank, path, sheet, row, field, value, null::varchar as after, rule, severity, message,
       concat_ws(':', name, row) || '#' || field as trace
from quarantine.finding join source_name using (file_id)
union all
select file_id, rank, path, sheet, row, field, before, after, rule, 'fix',
       'recorded as ' || coalesce(after, 'nothing') || coalesce(' (' || because || ')', ''),
       concat_ws(':', name, row) || '#' || field
from landing.change join source_name using (file_id);
