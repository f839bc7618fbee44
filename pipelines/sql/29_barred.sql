-- pipelines/sql/29_barred.sql
-- barring -> records.*: the records that a check sets aside barred, with all rows of their card; dated_card and dated_reading without them.
create or replace temp table barred_card as
select distinct r.fleet, r.card from records.rebuild_row r join barring b using (file_id, row) where b.record = 'rebuild';

update records.rebuild_row r set barred = true from barred_card b where b.fleet = r.fleet and b.card = r.card and r.standing = 'current';
update records.fitting_row r set barred = true from barred_card b where b.fleet = r.fleet and b.card = r.card and r.standing = 'current';
update records.unit_row r set barred = true from barring b where b.record = 'unit' and b.file_id = r.file_id and b.row = r.row;
update records.reading_row r set barred = true from barring b where b.record = 'reading' and b.file_id = r.file_id and b.row = r.row;
update records.retirement_row r set barred = true from barring b where b.record = 'retirement' and b.file_id = r.file_id and b.row = r.row;
update records.stock_row r set barred = true from barring b where b.record = 'stock' and b.file_id = r.file_id and b.row = r.row;
update records.part_row r set barred = true from barring b where b.record = 'part' and b.file_id = r.file_id and b.row = r.row;
update records.bearing_row r set barred = true from barring b where b.record = 'bearing' and b.file_id = r.file_id and b.row = r.row;

delete from dated_card d using (select file_id, row from records.rebuild_row semi join barred_card using (fleet, card)) b
where b.file_id = d.file_id and b.row = d.row;
delete from dated_reading d using barring b where b.record = 'reading' and b.file_id = d.file_id and b.row = d.row;
