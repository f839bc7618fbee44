-- pipelines/sql/26_unit_rows.sql
-- source, verdict -> records.unit_row; key file_id, row; $file_id.
-- Rows: those of source that are data, not refused whole and no duplicate. Versions of other files change their standing where need be.
insert into records.unit_row
select $file_id, row, fleet, unit, model, site, position, speed_rpm, commissioned_on, last_rebuilt_on, listed_on,
       content, coalesce(v.superseded, false)
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal and not coalesce(v.duplicate, false);

update records.unit_row r set superseded = v.superseded
from verdict v where v.file_id = r.file_id and v.row = r.row and v.file_id <> $file_id and v.superseded <> r.superseded;
