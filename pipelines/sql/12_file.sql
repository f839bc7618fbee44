-- pipelines/sql/12_file.sql
-- source -> landing.file: the file $file_id as it is now, one row; rows_read counts its rows and the $blanks among them.
insert into landing.file
select $file_id, $path, $sha256, $bytes, $pipeline, $pipeline_sha256, $record, $layout, $encoding, $delimiter,
       (select count(*) from source)::integer + len($blanks::integer[])::integer, get_current_timestamp()::timestamp
where not exists (from landing.file where file_id = $file_id);

update landing.file
set pipeline_sha256 = $pipeline_sha256, record = $record, layout = $layout, encoding = $encoding, delimiter = $delimiter,
    rows_read = (select count(*) from source)::integer + len($blanks::integer[])::integer, loaded_at = get_current_timestamp()::timestamp
where file_id = $file_id;
