-- pipelines/sql/20_incoming.sql
-- source -> temp table incoming: what tells the versions of its records apart. Key: row. Rows: those of file $file_id that may become
-- records. `version` holds the rows of one version together: all rows of the card where the $layout spreads it (0), else each row.
create or replace temp table incoming as
select $file_id::integer as file_id, row, record_key as key, content, version_on as revised_on, case when $layout = 'wide' then row else 0 end as version
from source where not_data is null and not fatal;
