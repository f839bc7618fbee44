-- pipelines/sql/29_meter.sql
-- meter_step (35_judged), checked_unit, seen_file -> found: what hour meters of the units $first to $last show that can't be, or that has to
-- be known to read them. Key: file_id, row, rule. Rows: one an evidence; one a stretch on which a meter stood still.
-- lone: shows too much or too little, while the one after it fits the one before: that one is not doubted as well.
create or replace temp table odd_unit as
select distinct unit_id from meter_step where fault is not null or new_meter or (place = 3 and changed) or (tenths < before and not in_shop);

create or replace temp table doubted_step as
with followed as (
  select *, lag(file_id) over unit as file_before, lag(row) over unit as row_before, lag(on_day) over unit as day_before,
         lead(tenths) over unit as tenths_after, lead(on_day) over unit as day_after
  from meter_step semi join odd_unit using (unit_id)
  window unit as (partition by unit_id order by moment, visit_id, tenths, changed)
),
judged as (
  select *, coalesce(fault in ('meter_went_back', 'impossible_rate')
                     and tenths_after - before between 0 and 240 * (day_after - day_before + 1), false) as lone
  from followed
)
select *, coalesce(lag(lone) over (partition by unit_id order by moment, visit_id, tenths, changed), false) as follows_lone
from judged
qualify fault is not null or new_meter or (place = 3 and changed) or (tenths < before and not in_shop);

insert into found
select case place when 2 then 'reading' else 'rebuild' end, s.file_id, s.row,
       case place when 1 then 'hours_removed' when 2 then 'hours' else 'hours_installed' end, shown.now,
       case when fault = 'meter_went_back' then 'meter_backwards' when fault = 'impossible_rate' then 'impossible_rate'
            when new_meter or changed then 'meter_changed' else 'meter_rollover' end,
       case when fault = 'meter_went_back'
              then m.unit || ' shows ' || shown.now || ' on ' || on_day || ', and ' || shown.past || ' on ' || day_before || shown.there || '; no hours are counted across the gap; correct the one that is wrong, or say that the meter was changed'
            when fault = 'impossible_rate'
              then m.unit || ' shows ' || shown.now || ' on ' || on_day || ', ' || printf('%g', step / 10) || ' h more than on ' || day_before || shown.there || ', over 24 h a day; no hours are counted across the gap; correct the hours or the day that is wrong'
            when fault = 'meter_changed_unread'
              then m.unit || ' has another meter on ' || on_day || ', and nothing says what the old one showed; no hours are counted since ' || day_before || shown.there || '; give old_meter_hours where they are known'
            when new_meter or changed
              then m.unit || ' has another meter, at ' || shown.now || ' on ' || on_day || case when changed and place = 3 then '' else ', the old one at ' || printf('%g h', old_tenths / 10) end || '; hours are counted on from ' || day_before || shown.there || '; correct it if the meter is the old one'
            else m.unit || ' shows ' || shown.now || ' on ' || on_day || ' after ' || shown.past || ' on ' || day_before || shown.there || '; it is taken to have gone over its last figure, and ' || printf('%g', step / 10) || ' h are counted; if it was changed, say so'
       end
from (
  select s.*, {now: printf('%g h', s.tenths / 10), past: printf('%g h', before / 10), there: ' (row ' || row_before || ' of ' || file || ')'} as shown
  from doubted_step s left join seen_file f on f.file_id = s.file_before
) s join (from checked_unit where unit_id between $first and $last) m using (unit_id)
where place <> 0 and fault is distinct from 'no_meter_at_start' and not (follows_lone and fault in ('meter_went_back', 'impossible_rate'))
  and (fault is not null or new_meter or (place = 3 and changed) or (tenths < before and not in_shop));

-- What a meter shows that began at 0 when the unit did, and can't have run so far since: the day is doubted, for the meter may be right.
insert into found
select 'unit', file_before, row_before, 'commissioned_on', day_before::varchar, 'impossible_rate',
       m.unit || ' shows ' || printf('%g h', tenths / 10) || ' on ' || on_day || ' (row ' || row || ' of ' || file || '), more than can have run since it was commissioned on ' || day_before || '; no hours are counted between them; correct the day or the hours that are wrong'
from doubted_step s join (from checked_unit where unit_id between $first and $last) m using (unit_id) join seen_file using (file_id)
where fault = 'no_meter_at_start';

insert into found
with stretch as (
  select unit_id, rise, sum(days) filter (breaks = 'meter_stuck') as days,
         min({on_day: on_day, place: place, file_id: file_id, row: row, tenths: tenths}) as began,
         max({on_day: on_day, place: place, file_id: file_id, row: row}) as ended
  from meter_step
  semi join (select distinct unit_id, rise from meter_step where breaks = 'meter_stuck') using (unit_id, rise)
  group by unit_id, rise
)
select case ended.place when 2 then 'reading' else 'rebuild' end, ended.file_id, ended.row,
       case ended.place when 1 then 'hours_removed' when 2 then 'hours' else 'hours_installed' end, printf('%g h', began.tenths / 10), 'meter_stuck',
       m.unit || ' shows ' || printf('%g h', began.tenths / 10) || ' on ' || ended.on_day || ' as on ' || began.on_day || ' (row ' || began.row || ' of ' || file || '), after ' || days || ' days in service; these hours are taken as missing, not as 0; see whether the meter stood still, or the unit, and correct the hours where they are known'
from stretch join (from checked_unit where unit_id between $first and $last) m using (unit_id) join seen_file f on f.file_id = began.file_id;

drop table doubted_step;
drop table odd_unit;
