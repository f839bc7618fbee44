-- pipelines/sql/40_studied_hours.sql
-- life -> studied (a view): the lives as the questions read them, in hours. Key: life_id. Rows: those of life.
-- `time_low` = `time_high`: ended by failure then; `time_high` infinite: still unfailed then;
-- else (`within`) it failed between them, hidden until opened. `left_out`: why it can't be used, or null.
-- `entity`, `place`: numbers of the unit and of the position (null: not known), which lives share; `mode`: the damage mode of a failure; `life`: what "framelife trace" takes.
create or replace temp view studied as
select life.* exclude (id, unit_id, place_id),
       coalesce(low_hours, hours) as time_low,
       case when status = 'failed' then hours else 'infinity'::double end as time_high,
       low_hours is not null as within,
       coalesce(entry_hours, 0) as entry,
       1 as weight,
       last_seen_hours as last_seen,
       left_out_hours as left_out,
       unit_id as entity,
       place_id as place,
       case when status = 'failed' then damage_mode end as mode,
       id as life
from life;
