-- pipelines/sql/29_loose_ends.sql
-- source, verdict -> what remains to be noted of the file $file_id: its corrections, the values refused inside its records, and in the
-- temp table unread the rows set aside as duplicates or superseded, of this and of other files (key file_id, row).
create or replace temp table recorded as
select row, refusals, corrections from source
anti join (from verdict where file_id = $file_id and duplicate) v using (row)
where not_data is null and not fatal and (refusals is not null or corrections is not null);

insert into landing.correction
select $file_id, row, correction.field, correction.before, correction.after, correction.rule
from (select row, unnest(corrections) as correction from recorded);

insert into quarantine.refusal
select $file_id, row, refusal.field, refusal.value, refusal.rule, refusal.message, refusal.whole_row
from (select row, unnest(refusals) as refusal from recorded);

delete from landing.set_aside a using verdict v
where a.file_id = v.file_id and a.row = v.row and a.outcome = 'superseded' and not v.superseded;

insert into unread
select v.file_id, v.row, 'duplicate', 'the same as row ' || v.original.row || ' of ' || f.path
from verdict v join landing.file f on f.file_id = v.original.file_id where v.duplicate;

insert into unread
select v.file_id, v.row, 'superseded', 'row ' || v.standing.row || ' of ' || f.path || ' stands in its place'
from verdict v join landing.file f on f.file_id = v.standing.file_id
where v.superseded and not v.duplicate and not v.was_superseded;
