-- pipelines/sql/25_stock_rows.sql
-- source, verdict -> records.stock_row; key file_id, row; $file_id. Rows: those of source that are data and not refused whole.
insert into records.stock_row
select $file_id, row, part, place, counted_on, on_hand, on_order, due_on,
       content, coalesce(v.standing, 'current'), false
from source left join (from verdict where file_id = $file_id) v using (row)
where not_data is null and not fatal;
