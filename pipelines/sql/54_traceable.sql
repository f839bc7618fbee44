-- pipelines/sql/54_traceable.sql
-- records.* -> traceable (a view): the cards and units that can be traced. Key: kind, id. Rows: one per card and per unit that any record names,
-- whatever became of it. `short`: what people call it where the fleet goes without saying.
create or replace temp view traceable as
select 'card' as kind, concat_ws('/', fleet, card) as id, card as short from (select distinct fleet, card from records.rebuild_row)
union all
select 'unit', concat_ws('/', fleet, unit), unit
from (
  select fleet, unit from records.rebuild_row where unit is not null
  union select fleet, unit from records.unit_row
  union select fleet, unit from records.reading_row
  union select fleet, unit from records.retirement_row
);
