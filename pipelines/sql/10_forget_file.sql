-- pipelines/sql/10_forget_file.sql
-- What file $file_id gave -> nothing, before it is read anew or forgotten. Leaves the temp table forgotten: the keys of its records, of
-- which another version may now be the current one; a row each, none for a file that was never read.
create or replace temp table forgotten as
select distinct record, key from records.version where file_id = $file_id;

delete from records.rebuild_row where file_id = $file_id;
delete from records.fitting_row where file_id = $file_id;
delete from records.unit_row where file_id = $file_id;
delete from records.reading_row where file_id = $file_id;
delete from records.retirement_row where file_id = $file_id;
delete from records.stock_row where file_id = $file_id;
delete from records.part_row where file_id = $file_id;
delete from records.bearing_row where file_id = $file_id;
delete from landing.set_aside where file_id = $file_id;
delete from landing.change where file_id = $file_id;
delete from landing.corrected where file_id = $file_id;
delete from quarantine.finding where file_id = $file_id;
