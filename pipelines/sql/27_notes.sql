-- pipelines/sql/27_notes.sql
-- source, column_doubt -> what remains to be noted of the file $file_id: values changed and values refused or doubted in rows that are
-- data, and what became of corrections, in rows refused whole too.
insert into landing.change
select $file_id, row, change.field, change.before, change.after, change.rule, change.because
from (select row, fatal, unnest(changes) as change from source where not_data is null and changes is not null)
where not fatal or change.rule = 'correction';

insert into landing.corrected
select $file_id, row, correction.line, correction.outcome
from (select row, unnest(corrections) as correction from source where corrections is not null);

insert into quarantine.finding
select $file_id, row, found.field, found.value, found.rule, found.severity, found.message, false
from (select row, unnest(findings) as found from source where not_data is null and not fatal and findings is not null);

insert into quarantine.finding
select $file_id, null, field, value, rule, 'warn', message, false from column_doubt;
