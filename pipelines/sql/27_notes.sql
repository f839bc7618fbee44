-- pipelines/sql/27_notes.sql
-- source, column_doubt -> what remains to be noted of the file $file_id: values changed and values refused or doubted in rows that are data.
insert into landing.change
select $file_id, row, change.field, change.before, change.after, change.rule, change.because
from (select row, unnest(changes) as change from source where not_data is null and not fatal and changes is not null);

insert into quarantine.finding
select $file_id, row, found.field, found.value, found.rule, found.severity, found.message, false
from (select row, unnest(findings) as found from source where not_data is null and not fatal and findings is not null);

insert into quarantine.finding
select $file_id, null, field, value, rule, 'warn', message, false from column_doubt;
