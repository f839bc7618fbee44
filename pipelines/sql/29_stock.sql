-- pipelines/sql/29_stock.sql
-- records.stock -> found: counts of less than nothing. Key: file_id, row, field. Rows: one a value.
insert into found
select 'stock', file_id, row, field, printf('%g', pieces), 'negative_stock',
       part || ' has ' || printf('%g', pieces) || ' pieces ' || case field when 'on_hand' then 'on the shelf' else 'on order' end || coalesce(' at ' || place, '') || coalesce(' on ' || counted_on, '')
       || '; count again, or book what was taken out before it came in'
from (unpivot (select file_id, row, part, place, counted_on, on_hand, on_order from records.stock) on on_hand, on_order into name field value pieces)
where pieces < 0;
