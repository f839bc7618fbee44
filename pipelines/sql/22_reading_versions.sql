-- pipelines/sql/22_reading_versions.sql
-- source -> temp table incoming, records.reading_row -> temp table stored: what tells versions of one reading apart. Key: file_id, row.
-- The record's key is (fleet, unit, read_on), hashed. Rows: those of the file that may become records; those of all other files.
-- Each row is a version of its record.
create or replace temp table incoming as
select row, md5_number(concat_ws(chr(31), fleet, unit, read_on::varchar)) as key, content, row as version
from source where not_data is null and not fatal;

create or replace temp table stored as
select file_id, row, md5_number(concat_ws(chr(31), fleet, unit, read_on::varchar)) as key, content, superseded, row as version
from records.reading_row where file_id <> $file_id;
