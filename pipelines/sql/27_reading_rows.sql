-- pipelines/sql/27_reading_rows.sql
-- source, verdict -> records.reading_row; key file_id, row; $file_id.
-- Rows: those of source that are data, not refused whole and no duplicate. Versions of other files change their standing where need be.
insert into records.reading_row
select $file_id, row, fleet, unit, read_on, hours, coalesce(meter_changed, false), old_meter_hours,
       content, coalesce(v.superseded, false)
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal and not coalesce(v.duplicate, false);

update records.reading_row r set superseded = v.superseded
from verdict v where v.file_id = r.file_id and v.row = r.row and v.file_id <> $file_id and v.superseded <> r.superseded;
