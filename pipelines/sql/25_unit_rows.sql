-- pipelines/sql/25_unit_rows.sql
-- source, verdict -> records.unit_row; key file_id, row; $file_id. Rows: those of source that are data and not refused whole.
insert into records.unit_row
select $file_id, row, fleet, unit, model, site, position, speed_rpm, commissioned_on, last_rebuilt_on, listed_on,
       content, coalesce(v.standing, 'current'), false
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;
