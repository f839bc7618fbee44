-- pipelines/sql/25_part_rows.sql
-- source, verdict -> records.part_row; key file_id, row; $file_id. Rows: those of source that are data and not refused whole.
insert into records.part_row
select $file_id, row, part, title, slot, price, currency, lead_time_days, lead_time_low_days, lead_time_high_days, pack_size, minimum_order, replaced_by,
       content, coalesce(v.standing, 'current'), false
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;
