-- pipelines/sql/25_retirement_rows.sql
-- source, verdict -> records.retirement_row; key file_id, row; $file_id. Rows: those of source that are data and not refused whole.
insert into records.retirement_row
select $file_id, row, fleet, unit, retired_on, cause,
       content, coalesce(v.standing, 'current'), false
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;
