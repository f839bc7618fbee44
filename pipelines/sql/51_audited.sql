-- pipelines/sql/51_audited.sql
-- landing.file, records.* -> audited (a temp table): the files that an audit looks at. Key: file_id.
-- Rows: all; with a $fleet those with a record of it, and those of which no record tells a fleet.
create or replace temp table audited as
with told as (
  select file_id, bool_or(fleet = $fleet) as own, count(distinct fleet) > 1 as mixed
  from (
    select file_id, fleet from records.rebuild_row union all
    select file_id, fleet from records.unit_row union all
    select file_id, fleet from records.reading_row union all
    select file_id, fleet from records.retirement_row
  ) group by file_id
)
select file_id, coalesce(mixed, false) as mixed
from landing.file left join told using (file_id)
where $fleet is null or coalesce(own, true);
