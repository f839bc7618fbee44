-- pipelines/sql/25_reading_rows.sql
-- source, verdict -> records.reading_row; key file_id, row; $file_id. Rows: those of source that are data and not refused whole.
insert into records.reading_row
select $file_id, row, fleet, unit, read_on, hours, meter_changed, old_meter_hours,
       content, coalesce(v.standing, 'current'), false
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;
