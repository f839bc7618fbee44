-- pipelines/sql/21_nothing_incoming.sql
-- nothing -> temp table incoming, empty: a file was forgotten, or the order of files has changed. Temp table forgotten: where it isn't
-- there already, every key of which there are several rows.
create or replace temp table incoming as
select null::integer as file_id, null::integer as row, null::uhugeint as key, null::uhugeint as content, null::date as revised_on, null::integer as version
where false;

create temp table if not exists forgotten as
select record, key from records.version group by record, key having count(*) > 1;
