-- pipelines/sql/20_incoming.sql
-- source, records.version, forgotten -> temp table incoming: what tells the versions of its records apart. Key: row. Rows: those of file
-- $file_id that may become records and of which another row, here or stored, may be a version. `version` holds the rows of one version
-- together: all rows of the card where the $layout spreads it (0), else each row.
create or replace temp table contestable as
select record_key as key from source where not_data is null and not fatal group by record_key having count(*) > 1
union all
select key from records.version where record = $record and file_id <> $file_id
union all
select key from forgotten where record = $record;

create or replace temp table incoming as
select $file_id::integer as file_id, row, record_key as key, content, version_on as revised_on, case when $layout = 'wide' then row else 0 end as version
from source where not_data is null and not fatal and record_key in (select key from contestable);

drop table contestable;
