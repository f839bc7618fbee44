-- pipelines/sql/29_same_day.sql
-- dated_card -> found: cards of a unit for a day for which an earlier file or row has one too. Key: file_id, row. Rows: one a card.
insert into found
select 'rebuild', file_id, row, out_field, out_on::varchar, 'same_day_card',
       unit || ' came out on ' || out_on || ' by card ' || first_card || ' too (row ' || first_row || ' of ' || first_file || '); leave one of the two out of the export, or correct the day or the unit'
from (
  select d.*, first_value(card) over day as first_card, first_value(row) over day as first_row, first_value(file) over day as first_file,
         row_number() over day as nth
  from dated_card d
  semi join (select fleet, unit, out_on from dated_card group by all having count(*) > 1) using (fleet, unit, out_on)
  join seen_file using (file_id)
  window day as (partition by fleet, unit, out_on order by rank, row rows between unbounded preceding and unbounded following)
) where nth > 1;
