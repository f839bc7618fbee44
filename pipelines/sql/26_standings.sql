-- pipelines/sql/26_standings.sql
-- verdict -> the standing of rows of other files that another version has changed; a row stands in one kind of record only.
create or replace temp table turned as
select file_id, row, standing from verdict where was is not null and was <> standing;

update records.rebuild_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.fitting_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.unit_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.reading_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.retirement_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.stock_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.part_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

update records.bearing_row r set standing = t.standing from turned t where t.file_id = r.file_id and t.row = r.row;

drop table turned;
