-- pipelines/sql/10_forget_file.sql
-- What file $file_id gave -> nothing, before it is read anew. Leaves the temp table forgotten: the keys of its records, of which
-- another version may now be the current one; a row each, none for a file that was never read.
create or replace temp table forgotten as
select md5_number(concat_ws(chr(31), fleet, card)) as key from records.rebuild_row where file_id = $file_id
union select md5_number(concat_ws(chr(31), fleet, unit)) from records.unit_row where file_id = $file_id
union select md5_number(concat_ws(chr(31), fleet, unit, read_on::varchar)) from records.reading_row where file_id = $file_id
union select md5_number(concat_ws(chr(31), fleet, unit)) from records.retirement_row where file_id = $file_id;

delete from records.rebuild_row where file_id = $file_id;
delete from records.fitting_row where file_id = $file_id;
delete from records.unit_row where file_id = $file_id;
delete from records.reading_row where file_id = $file_id;
delete from records.retirement_row where file_id = $file_id;
delete from landing.set_aside where file_id = $file_id;
delete from landing.correction where file_id = $file_id;
delete from quarantine.refusal where file_id = $file_id;
