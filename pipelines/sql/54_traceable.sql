-- pipelines/sql/54_traceable.sql
-- landing.change, records.* -> merged_number (a view): the numbers that the aliases file has replaced by a unit's own, in the rows that stand
-- for records. Key: fleet, number, unit. because: the line that says so. file_id, row: where the number stands first.
create or replace temp view merged_number as
select fleet, before as number, unit, any_value(because order by rank, row) as because, count(*)::integer as rows,
       arg_min({file_id: file_id, row: row}, [rank, row]) as first
from landing.change join landing.file_order using (file_id)
join (
  select file_id, row, fleet, unit from records.rebuild_row
  union all select file_id, row, fleet, unit from records.unit_row
  union all select file_id, row, fleet, unit from records.reading_row
  union all select file_id, row, fleet, unit from records.retirement_row
) using (file_id, row)
where rule = 'alias' and before is not null group by fleet, before, unit;

-- records.*, merged_number -> traceable (a view): the cards and units that can be traced. Key: kind, id, called. Rows: one per card and per unit
-- that any record names, whatever became of it, and one per number merged into a unit's. `called`: a name in full; `short`: what people call
-- it where the fleet goes without saying.
create or replace temp view traceable as
select 'card' as kind, concat_ws('/', fleet, card) as id, id as called, card as short from (select distinct fleet, card from records.rebuild_row)
union all
select 'unit', concat_ws('/', fleet, unit), concat_ws('/', fleet, unit), unit
from (
  select fleet, unit from records.rebuild_row where unit is not null
  union select fleet, unit from records.unit_row
  union select fleet, unit from records.reading_row
  union select fleet, unit from records.retirement_row
)
union all
select 'unit', concat_ws('/', fleet, unit), concat_ws('/', fleet, number), number from merged_number;
