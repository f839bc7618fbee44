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

-- records.*, merged_number -> traceable (a view): what can be traced by its name. Key: kind, id, called. Rows: one per card, unit, position and
-- part that any record names, whatever became of it, and one per number merged into a unit's. `called`: a name in full; `short`: what people
-- call it where the fleet goes without saying. Parts are of no fleet. place: 1 cards and units, 2 what is meant where none of these has the name.
create or replace temp view traceable as
select 1 as place, 'card' as kind, concat_ws('/', fleet, card) as id, id as called, card as short from (select distinct fleet, card from records.rebuild_row)
union all
select 1, 'unit', concat_ws('/', fleet, unit), concat_ws('/', fleet, unit), unit
from (
  select fleet, unit from records.rebuild_row where unit is not null
  union select fleet, unit from records.unit_row
  union select fleet, unit from records.reading_row
  union select fleet, unit from records.retirement_row
)
union all
select 1, 'unit', concat_ws('/', fleet, unit), concat_ws('/', fleet, number), number from merged_number
union all
select 2, 'position', concat_ws('/', fleet, position), concat_ws('/', fleet, position), position
from (
  select fleet, position from records.rebuild_row where position is not null
  union select fleet, position from records.unit_row where position is not null
)
union all
select 2, 'part', part, part, part
from (
  select part from records.part_row
  union select part from records.bearing_row
  union select part from records.stock_row
  union select part from records.fitting_row where part is not null
);
