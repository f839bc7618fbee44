-- pipelines/sql/13_set_aside.sql
-- source -> landing.set_aside: rows that are no data, and rows refused whole, with their refusals; key file_id, row; $file_id.
-- Makes the temp table unread for rows set aside of which the raw text must be read back: key file_id, row.
create or replace temp table unread (file_id integer, row integer, outcome varchar, because varchar);

insert into landing.set_aside
select $file_id, unnest($blanks::integer[]), 'not_data', 'empty line', '{}';

insert into landing.set_aside
select $file_id, row, 'not_data', not_data, raw from source where not_data is not null;

insert into quarantine.refusal
select $file_id, row, refusal.field, refusal.value, refusal.rule, refusal.message, refusal.whole_row
from (select row, unnest(refusals) as refusal from source where fatal and not_data is null);

create or replace temp table quarantined as
select row, raw,
       array_to_string(list_distinct(list_transform(list_filter(refusals, lambda x: x.whole_row), lambda x: x.rule)), ', ') as because
from source where fatal and not_data is null;

insert into landing.set_aside
select $file_id, row, 'quarantined', because, raw from quarantined where raw is not null;

insert into unread
select $file_id, row, 'quarantined', because from quarantined where raw is null;
