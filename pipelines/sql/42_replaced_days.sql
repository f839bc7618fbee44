-- pipelines/sql/42_replaced_days.sql
-- life -> observed (a view): the stretches between replacements of what is in a slot, in days, in the columns of 41_observed_days.
-- Key: life_id. Rows: those of life. A component that came out unfailed ends its stretch as planned; one that came out with nothing said
-- of it, as unknown; retirement and the end of follow-up are ends.
create or replace temp view observed as
select * exclude (id),
       0::double as start,
       case when left_out_days = 'zero_or_negative_length' then 0 else days - entry_days end::double as stop,
       case when ended_by <> 'rebuild' then 'end' when status = 'failed' then 'failure' when status = 'suspended' then 'planned'
            else 'unknown' end as ends,
       left_out_days is null and entry_days = 0 as whole,
       nullif(left_out_days, 'zero_or_negative_length') as left_out,
       0::double as entered,
       null::double as age_entered,
       false as from_new,
       concat_ws(' ', fleet, unit, slot) as entity,
       case when position is not null then concat_ws(' ', fleet, position, slot) end as place,
       case when assumed_running then greatest(coalesce(last_seen_days - entry_days, 0), 0) end::double as seen_stop,
       start_on as ordinal
from life;
