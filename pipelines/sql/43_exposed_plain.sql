-- pipelines/sql/43_exposed_plain.sql
-- observed (of a plain table) -> exposed (a view): each stretch between rebuilds by its age since the rebuild before. Rows: those of observed.
-- A history that enters late tells nothing of the age since the rebuild before: its first stretch is left out (start_unknown).
create or replace temp view exposed as
select * exclude (start, stop, ordinal, left_out, entity, place, entered, seen_stop, whole),
       place as position, ordinal as start_on,
       0::double as age_entry, stop - start as age_stop,
       case when not whole then 'start_unknown' when stop <= start then 'zero_or_negative_length' end as left_out
from observed;
