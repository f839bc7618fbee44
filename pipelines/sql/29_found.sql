-- pipelines/sql/29_found.sql
-- found -> quarantine.finding, each with the severity of its rule ($severities).
-- barring: the records that a rule sets aside by it. Key: record, file_id, row. Rows: one a record.
create or replace temp table severity as
select unnest(json_keys($severities::json)) as rule, json_extract_string($severities::json, '$.' || rule) as severity;

insert into quarantine.finding
select file_id, row, field, value, rule, severity, message, true from found join severity using (rule);

create or replace temp table barring as
select distinct record, file_id, row from found join severity using (rule) where severity = 'quarantine';
