-- pipelines/sql/29_fittings.sql
-- records.fitting, records.rebuild_row, dated_card, several_card, counted_row, checked_unit -> found: what cards leave out of their components. Key: file_id, row, field, rule.
-- Rows: one per card and slot; one per card that measured values lack.

-- Not of a card that is still open (its fleet says elsewhere when units went back, and it does not), nor of a unit's last before it was retired.
insert into found
with told as (
  select fleet, bool_or(tells) as tells_back
  from (select unit_id, bool_or(back_on is not null) as tells from dated_card group by unit_id) join checked_unit using (unit_id) group by fleet
),
-- Another row can say that it was replaced only where the card has several.
unreplaced as (
  from records.fitting join seen_file using (file_id) where condition = 'failed' and not coalesce(fitted, false)
),
bad as (
  select fleet, card, slot, file_id, row, fitted is not null as said_no from unreplaced anti join several_card using (fleet, card)
  union all
  select fleet, card, slot, place.file_id, place.row, said_no
  from (
    select fleet, card, slot, min({rank: rank, row: row, file_id: file_id}) as place, bool_or(fitted is not null) as said_no
    from unreplaced semi join several_card using (fleet, card) anti join (from records.fitting where fitted) using (fleet, card, slot)
    group by fleet, card, slot
  )
),
retired as (
  select unit_id, retired_on, max(out_on) as last_out
  from records.retirement join checked_unit using (fleet, unit) join dated_card using (unit_id) group by all
)
select 'rebuild', b.file_id, b.row, b.slot || '.fitted', case when said_no then 'no' end, 'failed_not_replaced',
       b.slot || ' of ' || u.unit || ' was found failed on card ' || b.card || ', and '
       || case when said_no then 'not replaced' else 'the card does not say that it was replaced' end
       || '; the failure is counted, and no life from there on until one is fitted; complete the card, or correct how it was found'
from bad b left join counted_row c using (fleet, card)
join dated_card d on d.file_id = coalesce(c.file_id, b.file_id) and d.row = coalesce(c.row, b.row)
join checked_unit u on u.unit_id = d.unit_id join told on told.fleet = b.fleet
where (d.back_on is not null or not tells_back)
  and not exists (from retired x where x.unit_id = d.unit_id and x.retired_on >= d.out_on and x.last_out <= d.out_on);

-- Only where cards of the same file do say how that slot was found: where none does, the audit says so once.
insert into found
with says as (
  select file_id, slot from records.fitting where condition is not null group by file_id, slot
),
silent as (
  select f.fleet, f.card, f.slot, f.file_id, min(f.row) as row
  from records.fitting f semi join says using (file_id, slot)
  where fitted and condition is null and damage_mode is null
  group by f.fleet, f.card, f.slot, f.file_id
),
spoken as (
  select fleet, card, slot from records.fitting semi join several_card using (fleet, card)
  where condition is not null or damage_mode is not null
)
select 'rebuild', s.file_id, s.row, s.slot || '.condition', null, 'replaced_no_condition',
       s.slot || ' of ' || u.unit || ' was replaced on card ' || s.card || ', which does not say how the old one was found; its life ends as unknown, neither failed nor sound; complete the card'
from silent s left join counted_row c using (fleet, card)
join dated_card d on d.file_id = coalesce(c.file_id, s.file_id) and d.row = coalesce(c.row, s.row)
join checked_unit u on u.unit_id = d.unit_id join records.rebuild_row r on r.file_id = s.file_id and r.row = s.row
anti join spoken using (fleet, card, slot)
where case when c.card is null then r.failed_slot else c.failed_slot end is distinct from s.slot;

insert into found
with card as (
  select distinct fleet, card from records.rebuild_row
  semi join (select fleet, card from records.rebuild_row where part = 'measured') using (fleet, card)
  where part = 'card' and standing = 'current' and not barred
),
alone as (
  select fleet, card, min({rank: rank, row: m.row, file_id: file_id}) as place, count(*) as values
  from records.rebuild_row m join seen_file using (file_id) anti join card using (fleet, card)
  where part = 'measured' and standing = 'current' and not barred
  group by fleet, card
)
select 'rebuild', place.file_id, place.row, 'card', card, 'measure_without_card',
       'no card ' || card || ' among the records of ' || fleet || ' (it may be in quarantine); its ' || case values when 1 then 'measured value is' else values || ' measured values are' end || ' not counted; add the card to the exports, or correct its number here'
from alone;

-- Rows of one card that say different things of one slot: the lives take the worse condition, and a component as fitted where one row says so.
insert into found
with disputed as (
  select fleet, card, slot from records.fitting semi join several_card using (fleet, card) group by fleet, card, slot
  having min(condition) <> max(condition) or min(fitted::tinyint) <> max(fitted::tinyint)
),
told as (
  select f.fleet, f.card, f.slot, f.file_id, f.row, rank, file,
         unnest([{field: 'condition', text: condition}, {field: 'fitted', text: case when fitted then 'yes' when not fitted then 'no' end}], recursive := true)
  from records.fitting f semi join disputed using (fleet, card, slot) join seen_file using (file_id)
),
compared as (
  select *, first_value(text) over here as first_text, first_value(row) over here as first_row, first_value(file) over here as first_file
  from told where text is not null
  window here as (partition by fleet, card, slot, field order by rank, row rows between unbounded preceding and unbounded following)
)
select 'rebuild', file_id, row, slot || '.' || field, text, 'contradicting_rows',
       'card ' || card || ' says ' || slot || '.' || field || ' "' || first_text || '" in row ' || first_row || ' of ' || first_file || ', and "' || text
       || '" here; ' || case field when 'condition' then 'the worse one counts' else 'it counts as fitted' end || '; correct the one that is wrong'
from compared where text <> first_text
qualify row_number() over (partition by fleet, card, slot, field order by rank, row) = 1;
