-- pipelines/sql/29_near_miss.sql
-- dated_card, dated_reading, counted_row, records.unit, records.retirement, seen_file -> records.near_miss: numbers that are nearly another unit's of
-- their fleet, with what speaks for it, and the same to found. Key: fleet, unit. Rows: one a number in doubt; never one of $refused, which are
-- the pairs that a person has said are two units.
-- Numbers are compared by what they have in common (hashed and joined), never each with each.

-- number: every number in use. Key: fleet, unit. usual: how many numbers of the fleet are written in its way, letters and figures.
--   plain     in capitals, without blanks and dashes but for a "~" where one divides figures
--   value     the same without leading zeros, and with a number that a spreadsheet shows as 2E5 written out
--   likeness  the same with letters as the figures that they look like
create or replace temp table number as
with named as (
  select unit_id, 0 as kind, count(*) as records from dated_card group by unit_id
  union all
  select unit_id, 1, count(*) from dated_reading group by unit_id
  union all
  select unit_id, 2, 1 from records.unit join checked_unit using (fleet, unit)
  union all
  select unit_id, 3, 1 from records.retirement join checked_unit using (fleet, unit)
),
counted as (
  select fleet, unit, upper(unit) as capital, sum(records)::bigint as records, coalesce(sum(records) filter (kind = 0), 0)::bigint as cards,
         bool_or(kind = 2) as listed, bool_or(kind = 3) as retired
  from named join checked_unit using (unit_id) group by fleet, unit
),
dashed as (
  select *, regexp_replace(regexp_replace(capital, '[\s_./\\-]+', '-', 'g'), '([0-9])-([0-9])', '\1~\2', 'g') as dashed,
         regexp_replace(regexp_replace(capital, '[A-Z]', 'A', 'g'), '[0-9]', '0', 'g') as pattern,
         regexp_replace(regexp_replace(capital, '[A-Z]', 'A', 'g'), '[0-9]+', '0', 'g') as shape,
         regexp_matches(capital, '(^|[^0-9])0[0-9]') as padded,
         case when contains(capital, 'E') and regexp_full_match(capital, '[0-9]+([.,][0-9]+)?E\+?[0-9]{1,2}')
              then printf('%.0f', replace(capital, ',', '.')::double) end as written_out
  from counted
),
plain as (
  select *, replace(regexp_replace(dashed, '([0-9])-([0-9])', '\1~\2', 'g'), '-', '') as plain from dashed
),
valued as (
  select *, regexp_replace(coalesce(written_out, plain), '(^|[^0-9])0+([0-9])', '\1\2', 'g') as value,
         translate(plain, 'OILSBZG', '0115826') as likeness,
         count(*) over (partition by fleet, pattern) as usual
  from plain
),
as_fleet as (
  select fleet, count(*) as numbers, max(usual) as most_usual, count(*) filter (listed) as on_list,
         max({usual: usual, pattern: pattern, shape: shape}) as way, bool_or(padded) as pads
  from valued group by fleet
)
select v.* exclude (dashed, capital), f.* exclude (fleet) from valued v join as_fleet f using (fleet);

-- pair: an odd number, and the one it may be meant for. Key: fleet, unit, meant, alike.
create or replace temp table pair as
with same_value as (
  select *, 'value' as alike, row_number() over best as nth, first_value(unit) over best as meant,
         count(*) filter (listed) over (partition by fleet, value) as real
  from (from number qualify count(*) over (partition by fleet, value) > 1)
  window best as (partition by fleet, value order by listed desc, records desc, usual desc, length(unit) desc, unit)
),
same_likeness as (
  select *, 'likeness' as alike, row_number() over best as nth, first_value(unit) over best as meant,
         count(*) filter (listed) over (partition by fleet, likeness) as real
  from (from number qualify count(*) over (partition by fleet, likeness) > 1)
  window best as (partition by fleet, likeness order by listed desc, records desc, usual desc, length(unit) desc, unit)
),
-- Numbers of which another may be a slip of the pen: seldom told, and either missing on a list that has (nearly) all units, or, without a
-- list, written in another way than most: in a fleet that fills up with noughts also one that is too short, or too long and filled up; its
-- numbers may go on past their last figure, and where numbers are not filled up they are of any length.
odd as (
  select fleet, unit, plain from number
  where length(plain) >= 4 and not listed and not retired
    and case when on_list > 0 then records <= 2 and numbers - on_list <= greatest(5, on_list / 10)
             else cards = 1 and records <= 2 and usual < most_usual and most_usual * 2 > numbers
                  and (shape <> way.shape or (pads and (length(pattern) < length(way.pattern) or padded))) end
),
sound as (
  select fleet, unit, plain from number semi join (select distinct fleet from odd) using (fleet)
  where case when on_list > 0 then listed else usual = most_usual end
),
odd_less as (
  select fleet, unit, plain, unnest(list_prepend(plain, list_transform(range(1, length(plain) + 1), lambda i: substr(plain, 1, i - 1) || substr(plain, i + 1)))) as less from odd
),
sound_less as (
  select fleet, unit, plain, unnest(list_prepend(plain, list_transform(range(1, length(plain) + 1), lambda i: substr(plain, 1, i - 1) || substr(plain, i + 1)))) as less from sound
),
slip as (
  select distinct o.fleet, o.unit, s.unit as meant from odd_less o join sound_less s using (fleet, less)
  where o.unit <> s.unit and damerau_levenshtein(o.plain, s.plain) = 1
),
only_slip as (
  from slip qualify count(*) over (partition by fleet, unit) = 1
)
select fleet, unit, meant, alike from same_value where nth > 1 and real < 2
union all
select fleet, unit, meant, alike from same_likeness s where nth > 1 and real < 2
  and not exists (from same_value v where v.nth > 1 and v.fleet = s.fleet and v.unit = s.unit)
union all
select fleet, unit, meant, 'slip' from only_slip p
  where not exists (from same_value v where v.nth > 1 and v.fleet = p.fleet and v.unit = p.unit)
    and not exists (from same_likeness v where v.nth > 1 and v.real < 2 and v.fleet = p.fleet and v.unit = p.unit);

create or replace temp table asked as
from checked_unit semi join (select fleet, unit from pair union select fleet, meant from pair) using (fleet, unit);

create or replace temp table asked_card as
select a.fleet, a.unit, d.file_id, d.row, case when c.card is null then r.model else c.model end as model,
       case when c.card is null then r.position else c.position end as position
from dated_card d join asked a using (unit_id) join records.rebuild_row r on r.file_id = d.file_id and r.row = d.row
left join counted_row c on c.fleet = r.fleet and c.card = r.card;

delete from records.near_miss;

insert into records.near_miss
with refused as (
  select unnest(from_json($refused, '[{"fleet": "VARCHAR", "unit": "VARCHAR", "meant": "VARCHAR"}]'), recursive := true)
),
named as (
  select fleet, unit, 0 as kind, row, file_id, model, position from asked_card
  union all
  select fleet, unit, 1, row, file_id, null, null from dated_reading join asked using (unit_id)
  union all
  select fleet, unit, 2, row, file_id, model, position from records.unit semi join asked using (fleet, unit)
  union all
  select fleet, unit, 3, row, file_id, null, null from records.retirement semi join asked using (fleet, unit)
),
told as (
  select fleet, unit, min({kind: kind, rank: rank, row: row, file_id: file_id}) as place,
         coalesce(list_sort(list(distinct model) filter (model is not null)), []) as models,
         coalesce(list_sort(list(distinct position) filter (position is not null)), []) as positions
  from named join seen_file using (file_id)
  group by fleet, unit
),
doubted as (
  select n.*, t.* exclude (fleet, unit) from number n join told t using (fleet, unit)
),
compared as (
  select p.fleet, p.unit, p.meant, alike, o.listed < m.listed as only_other_listed, o.records, m.records as records_meant,
         list_intersect(o.models, m.models) as models, list_intersect(o.positions, m.positions) as positions,
         len(o.models) > 0 and len(m.models) > 0 as both_models, len(o.positions) > 0 and len(m.positions) > 0 as both_positions,
         o.usual <= 2 or o.usual * 10 <= m.usual as rare, o.retired, o.place,
         case when alike = 'likeness' then 'letters that look like figures'
              when alike = 'value' and o.plain = m.plain then 'case, blanks or dashes'
              when alike = 'value' and (o.written_out is not null or m.written_out is not null) then 'a power of ten as spreadsheets write it'
              when alike = 'value' then 'leading zeros'
              when length(o.plain) > length(m.plain) then 'one letter or figure more'
              when length(o.plain) < length(m.plain) then 'one letter or figure less'
              when levenshtein(o.plain, m.plain) = 2 then 'two neighbours swapped'
              else 'one letter or figure other' end as difference
  from pair p join doubted o using (fleet, unit) join doubted m on m.fleet = p.fleet and m.unit = p.meant
)
select c.fleet, c.unit, c.meant,
       difference || '; ' || case c.records when 1 then '1 record' else c.records || ' records' end || ' of it, ' || records_meant || ' of ' || c.meant
       || case when only_other_listed then ', which alone is on the list of units' when rare then ', and hardly a number of the fleet is written like it' else '' end
       || case when len(models) > 0 then '; both are ' || list_sort(models)[1] else '' end
       || case when len(positions) > 0 then '; both were at ' || list_sort(positions)[1] else '' end,
       place.file_id, place.row
from compared c
where case alike
        when 'value' then not both_models or len(models) > 0
        when 'likeness' then (not both_models or len(models) > 0) and (rare or (only_other_listed and not retired))
        else not (both_models or both_positions) or len(models) > 0 or len(positions) > 0 end
  and not exists (from refused r where r.fleet = c.fleet and ((r.unit = c.unit and r.meant = c.meant) or (r.unit = c.meant and r.meant = c.unit)))
order by fleet, unit;

insert into found
select 'unit', file_id, row, 'unit', unit, 'near_miss',
       '"' || unit || '" is nearly "' || meant || '": ' || because || '; if it is the same unit, write yes beside it in aliases.csv, else no'
from records.near_miss;

drop table pair;
drop table number;
drop table asked;
drop table asked_card;
