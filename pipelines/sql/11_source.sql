-- pipelines/sql/11_source.sql
-- staged (one row per record of the export, its header the first) -> temp view source: the same without the header, numbered.
-- Key: row, the number that a spreadsheet shows; $blanks are the numbers of the empty lines, which the reader passed over.
-- Rows in $broken are refused whole: their quotes are broken.
create temp table numbered as
with blank as (
  select first_after, max(shift) as shift
  from (
    select blank_row - row_number() over (order by blank_row) as first_after, row_number() over (order by blank_row) as shift
    from (select unnest($blanks::integer[]) as blank_row)
  ) group by first_after
),
counted as (
  select (staged.rowid + 1 + coalesce(shift, 0))::integer as row, staged.*
  from staged asof left join blank on staged.rowid >= blank.first_after
  where staged.rowid > 0
)
select counted.* replace (
         fatal or broken_row is not null as fatal,
         case when broken_row is null then refusals
              else list_append(coalesce(refusals, []), {
                field: 'row', value: null::varchar, rule: 'broken_quotes',
                message: 'text follows a closing quote; double the quotes inside the cell', whole_row: true}) end as refusals,
         case when broken_row is null then not_data end as not_data)
from counted left join (select unnest($broken::integer[]) as broken_row) on row = broken_row;

create temp view source as from numbered;
