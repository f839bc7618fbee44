-- pipelines/sql/29_cards.sql
-- records.rebuild_row, records.rebuild -> found: cards that can't both be. Key: file_id, row, rule. Rows: one a finding.
create or replace temp table dated_card as
select fleet, unit, card, file_id, row, rank, path,
       coalesce(removed_on, received_on, built_on, installed_on) as out_on, coalesce(installed_on, built_on) as back_on
from records.rebuild join landing.file_order using (file_id) join (select file_id, path from landing.file) using (file_id);

-- The later of two cards for one visit of a unit.
insert into found
select 'rebuild', file_id, row, 'card', card, 'same_day_card',
       unit || ' came out on ' || out_on || ' by card ' || first_card || ' too (row ' || first_row || ' of ' || first_path || '); leave one of them out of the export, or correct the day or the unit'
from (
  select *, first_value(card) over day as first_card, first_value(row) over day as first_row, first_value(path) over day as first_path,
         row_number() over day as place
  from dated_card
  window day as (partition by fleet, unit, out_on order by rank, row, card rows between unbounded preceding and unbounded following)
) where place > 1;

insert into found
select 'rebuild', file_id, row, 'removed_on', out_on::varchar, 'overlap',
       unit || ' came out on ' || out_on || ', before it went back on ' || back_before || ' by card ' || card_before || ' (row ' || row_before || ' of ' || path_before || '); one of the dates, or the unit, is wrong'
from (
  select *, lag(back_on) over unit as back_before, lag(card) over unit as card_before, lag(row) over unit as row_before, lag(path) over unit as path_before,
         lag(out_on) over unit as out_before
  from dated_card window unit as (partition by fleet, unit order by out_on, rank, row)
) where out_on < back_before and out_on > out_before;

-- A card number on two units: a number used again, or a unit corrected.
insert into found
select 'rebuild', later.file_id, later.row, 'unit', later.unit, 'card_of_two_units',
       'card ' || later.card || ' is of unit ' || earlier.unit || ' in row ' || earlier.row || ' of ' || f.path || '; if they are two jobs, give them card numbers of their own, else correct the unit'
from records.rebuild_row later join records.rebuild_row earlier using (fleet, card, part) join landing.file f on f.file_id = earlier.file_id
where later.standing = 'current' and earlier.standing = 'superseded' and earlier.unit <> later.unit
qualify row_number() over (partition by later.file_id, later.row order by earlier.file_id desc, earlier.row) = 1;
