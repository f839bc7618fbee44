-- pipelines/sql/29_cards.sql
-- busy, several_card, records.rebuild_row, seen_file -> found: cards and rows of cards that can't all be right. Key: file_id, row, field, rule.
-- Rows: one a finding.

-- A unit taken out on a day before one of its earlier cards says that it went back. The lives count the overlap once.
insert into found
with card as (
  select file_id, row, card from records.rebuild_row semi join (select other.file_id, other.row from busy) using (file_id, row)
)
select 'rebuild', b.file_id, b.row, out_field, out_on::varchar, 'overlap',
       unit || ' came out on ' || out_on || ', before it went back on ' || other.back_on || ' by card ' || card || ' (row ' || other.row || ' of ' || file
       || '); no life is counted from that day on; correct the day that is wrong, or the unit'
from busy b join card c on c.file_id = other.file_id and c.row = other.row join checked_unit using (unit_id) join seen_file f on f.file_id = other.file_id;

drop table busy;

-- A card number that stood for another unit in a version before: used again, or a unit corrected.
insert into found
with split as (
  select fleet, card from records.rebuild_row
  semi join (select fleet, card from records.rebuild_row where standing = 'superseded' and part = 'card') using (fleet, card)
  where unit is not null and part = 'card' group by fleet, card having min(unit) <> max(unit)
),
version as (
  select r.*, rank, file from records.rebuild_row r semi join split using (fleet, card) join seen_file using (file_id)
  where part = 'card' and unit is not null
),
now as (
  select fleet, card, unit, file_id, row, row_number() over (partition by fleet, card order by rank, row) as nth
  from version where standing = 'current' and not barred
),
past as (
  select fleet, card, unit, row, file, row_number() over (partition by fleet, card order by rank desc, row) as nth
  from version v where standing = 'superseded' and not exists (from now n where n.fleet = v.fleet and n.card = v.card and n.unit = v.unit)
)
select 'rebuild', n.file_id, n.row, 'unit', n.unit, 'card_of_two_units',
       'card ' || n.card || ' is of unit ' || p.unit || ' in row ' || p.row || ' of ' || p.file || ', and only its later version counts; if they are two jobs, give them card numbers of their own, else correct the unit there'
from now n join past p using (fleet, card) where n.nth = 1 and p.nth = 1;

-- A card number that stood for another visit of the same unit in a version before, over 60 days apart: used again, or a day corrected.
insert into found
with stayed as (
  select fleet, card, part, unit, file_id, row, standing, barred, coalesce(removed_on, received_on, built_on, installed_on) as out_on
  from records.rebuild_row
  semi join (select fleet, card from records.rebuild_row where standing = 'superseded' and part = 'card') using (fleet, card)
  where part = 'card' and unit is not null
),
apart as (
  select fleet, card, unit from stayed group by fleet, card, unit having max(out_on) - min(out_on) > 60
),
version as (
  from stayed semi join apart using (fleet, card, unit) join seen_file using (file_id)
),
now as (
  select fleet, card, unit, file_id, row, out_on, row_number() over (partition by fleet, card order by rank, row) as nth
  from version where standing = 'current' and not barred
),
past as (
  select v.*, row_number() over (partition by v.fleet, v.card order by v.rank desc, v.row) as nth
  from version v join now n on n.fleet = v.fleet and n.card = v.card and n.unit = v.unit and n.nth = 1
  where v.standing = 'superseded' and abs(v.out_on - n.out_on) > 60
)
select 'rebuild', n.file_id, n.row, 'card', n.card, 'card_used_again',
       'card ' || n.card || ' took ' || n.unit || ' out on ' || p.out_on || ' in row ' || p.row || ' of ' || p.file || ', and on ' || n.out_on
       || ' here; only the later version counts: if they are two visits, give them card numbers of their own, or compose the card of unit and removed_on in the pipeline; else correct the day'
from now n join past p using (fleet, card) where n.nth = 1 and p.nth = 1;

-- Rows of one card that say different things of the card as a whole. Values told in other units differ by the rounding of what was written;
-- what is of one component, fitter and ring temperature, and remarks may differ from row to row. Of values measured again the last counts.
insert into found
with disputed as (
  select fleet, card from records.rebuild_row semi join several_card using (fleet, card) where standing = 'current' and not barred group by fleet, card
  having bool_or(part = 'card') and (
    min(unit) <> max(unit) or min(position) <> max(position) or min(site) <> max(site) or min(model) <> max(model)
    or min(removed_on) <> max(removed_on) or min(received_on) <> max(received_on) or min(built_on) <> max(built_on) or min(installed_on) <> max(installed_on)
    or max(hours_removed) - min(hours_removed) > 1 or max(hours_installed) - min(hours_installed) > 1
    or min(reason) <> max(reason) or min(failed_slot) <> max(failed_slot) or min(lube) <> max(lube) or min(seal_arrangement) <> max(seal_arrangement)
    or max(end_play_mm) - min(end_play_mm) > 0.005 or max(end_play_found_mm) - min(end_play_found_mm) > 0.005
    or max(shims_mm) - min(shims_mm) > 0.005 or max(race_depth_mm) - min(race_depth_mm) > 0.005
    or max(spigot_height_mm) - min(spigot_height_mm) > 0.005 or max(end_play_unshimmed_mm) - min(end_play_unshimmed_mm) > 0.005
    or max(speed_rpm) - min(speed_rpm) > 1)
),
told as (
  select fleet, card, part, file_id, row, rank, file,
         unnest([
           {field: 'unit', text: unit, number: null::double, within: null::double, measure: ''},
           {field: 'position', text: position, number: null, within: null, measure: ''},
           {field: 'site', text: site, number: null, within: null, measure: ''},
           {field: 'model', text: model, number: null, within: null, measure: ''},
           {field: 'removed_on', text: removed_on::varchar, number: null, within: null, measure: ''},
           {field: 'received_on', text: received_on::varchar, number: null, within: null, measure: ''},
           {field: 'built_on', text: built_on::varchar, number: null, within: null, measure: ''},
           {field: 'installed_on', text: installed_on::varchar, number: null, within: null, measure: ''},
           {field: 'hours_removed', text: null, number: hours_removed, within: 1, measure: ' h'},
           {field: 'hours_installed', text: null, number: hours_installed, within: 1, measure: ' h'},
           {field: 'reason', text: reason, number: null, within: null, measure: ''},
           {field: 'failed_slot', text: failed_slot, number: null, within: null, measure: ''},
           {field: 'lube', text: lube, number: null, within: null, measure: ''},
           {field: 'seal_arrangement', text: seal_arrangement, number: null, within: null, measure: ''},
           {field: 'end_play', text: null, number: end_play_mm, within: 0.005, measure: ' mm'},
           {field: 'end_play_found', text: null, number: end_play_found_mm, within: 0.005, measure: ' mm'},
           {field: 'shims', text: null, number: shims_mm, within: 0.005, measure: ' mm'},
           {field: 'race_depth', text: null, number: race_depth_mm, within: 0.005, measure: ' mm'},
           {field: 'spigot_height', text: null, number: spigot_height_mm, within: 0.005, measure: ' mm'},
           {field: 'end_play_unshimmed', text: null, number: end_play_unshimmed_mm, within: 0.005, measure: ' mm'},
           {field: 'speed', text: null, number: speed_rpm, within: 1, measure: ' rpm'}
         ], recursive := true)
  from records.rebuild_row semi join disputed using (fleet, card) join seen_file using (file_id)
  where standing = 'current' and not barred
),
said as (
  select * exclude (text), coalesce(text, printf('%g', number) || measure) as text from told where text is not null or number is not null
),
compared as (
  select *, first_value(text) over here as counts, first_value(number) over here as counting,
         first_value(row) over here as row_counting, first_value(file) over here as file_counting
  from said
  window here as (partition by fleet, card, field order by case part when 'card' then [0, rank, row] else [1, -rank, -row] end
                  rows between unbounded preceding and unbounded following)
)
select 'rebuild', file_id, row, field, text, 'contradicting_rows',
       'card ' || card || ' says ' || field || ' "' || counts || '" in row ' || row_counting || ' of ' || file_counting || ', which counts, and "' || text || '" here; correct the one that is wrong'
from compared
where case when number is null then text <> counts else abs(number - counting) > within end
qualify row_number() over (partition by fleet, card, field order by rank, row) = 1;
