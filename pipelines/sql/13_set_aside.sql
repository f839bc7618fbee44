-- pipelines/sql/13_set_aside.sql
-- source -> landing.set_aside: rows that are no data, and rows refused whole, with their findings; key file_id, row; $file_id.
-- Raw is '' where the row's text has to be read back from the export: what its column says of it came after its cells had gone.
insert into landing.set_aside
select $file_id, unnest($blanks::integer[]), 'not_data', 'empty line', '{}';

insert into landing.set_aside
select $file_id, row, 'not_data', not_data, coalesce(raw, '') from source where not_data is not null;

insert into quarantine.finding
select $file_id, row, found.field, found.value, found.rule, found.severity, found.message, false
from (select row, unnest(findings) as found from source where fatal and not_data is null);

insert into landing.set_aside
select $file_id, row, 'quarantined',
       array_to_string(list_distinct(list_transform(list_filter(findings, lambda x: x.severity = 'quarantine'), lambda x: x.rule)), ', '),
       coalesce(raw, '')
from source where fatal and not_data is null;
