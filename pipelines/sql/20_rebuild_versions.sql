-- pipelines/sql/20_rebuild_versions.sql
-- source -> temp table incoming, records.rebuild_row -> temp table stored: what tells versions of one rebuild apart. Key: file_id, row.
-- The record's key is (fleet, card), hashed. Rows: those of the file that may become records; those of all other files.
-- `version` holds the rows of one version together: all rows of the card in a long export (0), each row in a wide one.
create or replace temp table incoming as
select row, md5_number(concat_ws(chr(31), fleet, card)) as key, content,
       case when $layout = 'long' then 0 else row end as version
from source where not_data is null and not fatal;

create or replace temp table stored as
select file_id, row, md5_number(concat_ws(chr(31), fleet, card)) as key, content, superseded,
       case when layout = 'long' then 0 else row end as version
from records.rebuild_row join landing.file using (file_id) where file_id <> $file_id;
