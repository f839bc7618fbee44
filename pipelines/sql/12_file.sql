-- pipelines/sql/12_file.sql
-- source -> landing.file: the file $file_id as it is now, one row; rows_read counts its rows and the $blanks empty lines among them.
-- What was read before from the same place is replaced by it. Read again, it keeps its state.
create or replace temp table before as select state from landing.file where file_id = $file_id;

delete from landing.file where file_id = $file_id;

insert into landing.file
select $file_id, $path, $sheet, $sha256, $bytes, $pipeline, $pipeline_sha256, $record, $layout, $reading, from_json($header, '["VARCHAR"]'),
       (select count(*) from source)::integer + $blanks::integer, coalesce((select state from before), 'there'),
       $pipeline_place, $pattern_place, $sheet_place, get_current_timestamp()::timestamp;

update landing.file set state = 'replaced'
where file_id < $file_id and path = $path and sheet is not distinct from $sheet and pipeline = $pipeline and state <> 'replaced';

drop table before;

update landing.checked set made_with = null;
