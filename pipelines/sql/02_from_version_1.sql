-- pipelines/sql/02_from_version_1.sql
-- v1_* -> the tables of the version that is made now. Every file is to be read anew (no pipeline has the hash ''), from its place or its kept copy; until then
-- its rows stand as they did, but for duplicates, which version 1 did not keep: they count as set aside.
insert into landing.file
select file_id, path, null, sha256, bytes, pipeline, '', record, layout,
       json_object('format', 'csv', 'encoding', encoding, 'delimiter', delimiter, 'decimalMark', '.'), null, rows_read,
       case when file_id = max(file_id) over (partition by path, pipeline) then 'there' else 'replaced' end, 0, 0, 0, loaded_at
from v1_file;

insert into landing.set_aside
select file_id, row, outcome, because, raw from v1_set_aside where outcome <> 'superseded';

insert into landing.change select file_id, row, field, before, after, rule, null from v1_correction;

insert into quarantine.finding
select file_id, row, field, value, rule, case when whole_row then 'quarantine' else 'refuse' end, message, false from v1_refusal;

insert into records.rebuild_row by name
select file_id, row, 'card' as part, card, fleet, unit, position, site, model, removed_on, received_on, built_on, installed_on,
       hours_removed, hours_installed, reason, failed_slot, lube, seal_arrangement, end_play_mm, end_play_found_mm, shims_mm,
       ring_temperature_c, speed_rpm, fitter, remarks, content, case when superseded then 'superseded' else 'current' end as standing, false as barred
from v1_rebuild;

insert into records.fitting_row
select file_id, row, fleet, card, slot, fitted, condition, damage_mode, part, batch, case when superseded then 'superseded' else 'current' end, false
from v1_fitting;

insert into records.unit_row
select file_id, row, fleet, unit, model, site, position, speed_rpm, commissioned_on, last_rebuilt_on, listed_on, content,
       case when superseded then 'superseded' else 'current' end, false
from v1_unit;

insert into records.reading_row
select file_id, row, fleet, unit, read_on, hours, meter_changed, old_meter_hours, content, case when superseded then 'superseded' else 'current' end, false
from v1_reading;

insert into records.retirement_row
select file_id, row, fleet, unit, retired_on, cause, content, case when superseded then 'superseded' else 'current' end, false
from v1_retirement;

drop table v1_file;
drop table v1_set_aside;
drop table v1_correction;
drop table v1_refusal;
drop table v1_rebuild;
drop table v1_fitting;
drop table v1_unit;
drop table v1_reading;
drop table v1_retirement;
