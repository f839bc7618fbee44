-- pipelines/sql/29_service.sql
-- dated_card, dated_reading, records.unit, records.retirement, checked_unit, seen_file -> found: records dated before the unit was first in
-- service, or after it was taken out of use. Key: file_id, row, field, rule. Rows: one a day that can't be.
create or replace temp table bounded as
select c.*, u.commissioned_on, u.row as commissioned_row, n.file as commissioned_file, r.retired_on, r.row as retired_row, t.file as retired_file
from (from records.unit where commissioned_on is not null) u full join records.retirement r using (fleet, unit) join checked_unit c using (fleet, unit)
left join seen_file n on n.file_id = u.file_id left join seen_file t on t.file_id = r.file_id;

insert into found
with dated as (
  select 'rebuild' as record, unit_id, file_id, row, out_field::varchar as field, out_on as on_day from dated_card
  union all
  select 'reading', unit_id, file_id, row, 'read_on', read_on from dated_reading
  union all
  select 'unit', unit_id, file_id, row, unnest(['last_rebuilt_on', 'listed_on']), unnest([last_rebuilt_on, listed_on]) from records.unit join checked_unit using (fleet, unit)
  union all
  select 'retirement', unit_id, file_id, row, 'retired_on', retired_on from records.retirement join checked_unit using (fleet, unit)
),
outside as (
  select d.*, b.* exclude (unit_id), on_day < commissioned_on and field <> 'listed_on' as is_before
  from dated d join bounded b using (unit_id)
  where (on_day < commissioned_on and field <> 'listed_on') or (on_day > retired_on and field not in ('retired_on', 'last_rebuilt_on'))
)
select record, file_id, row, field, on_day::varchar, case when is_before then 'before_commissioning' else 'after_retirement' end,
       case when is_before
         then field || ' ' || on_day || ' lies before ' || unit || ' was commissioned on ' || commissioned_on || ' (row ' || commissioned_row || ' of ' || commissioned_file || '); '
              || case record when 'rebuild' then 'no life is counted from that commissioning on'
                             when 'reading' then 'its meter is not taken to have begun at 0 then'
                             when 'unit' then 'that rebuild is not counted'
                             else 'no life is counted between them' end
         else field || ' ' || on_day || ' lies after ' || unit || ' was taken out of use on ' || retired_on || ' (row ' || retired_row || ' of ' || retired_file || '); '
              || case record when 'rebuild' then 'the retirement is not counted' else 'where no card follows it, its lives end on that day' end
       end || '; correct the day that is wrong, or the unit'
from outside;

drop table bounded;
