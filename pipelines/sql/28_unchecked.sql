-- pipelines/sql/28_unchecked.sql
-- records.*, quarantine.finding -> the same without what the checks over all records found before.
delete from quarantine.finding where across;
update records.rebuild_row set barred = false where barred;
update records.fitting_row set barred = false where barred;
update records.unit_row set barred = false where barred;
update records.reading_row set barred = false where barred;
update records.retirement_row set barred = false where barred;
update records.stock_row set barred = false where barred;
update records.part_row set barred = false where barred;
update records.bearing_row set barred = false where barred;
