-- pipelines/sql/29_same_day.sql
-- same_day_card, dated_card -> found: cards of a unit for a day for which an earlier file or row has one too. Key: file_id, row. Rows: one a card.
insert into found
select 'rebuild', file_id, row, out_field, out_on::varchar, 'same_day_card',
       unit || ' came out on ' || out_on || ' by card ' || first_card || ' too (row ' || first_row || ' of ' || first_file || '); leave one of the two out of the export, or correct the day or the unit'
from (
  select *, first_value(card) over day as first_card, first_value(row) over day as first_row, first_value(file) over day as first_file,
         row_number() over day as nth
  from same_day_card join dated_card using (file_id, row) join checked_unit using (unit_id) join seen_file using (file_id)
  window day as (partition by unit_id, out_on order by rank, row rows between unbounded preceding and unbounded following)
) where nth > 1;
