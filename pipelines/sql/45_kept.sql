-- pipelines/sql/45_kept.sql
-- results.life, results.installation, results.kept -> life, installation, as_of: as if they had been derived now. Keys and rows: as there.
create or replace temp view life as
select life_id, unit_id, place_id, concat_ws('/', fleet, unit, slot, build_number) as id, * exclude (life_id, unit_id, place_id) from results.life;

create or replace temp view installation as
select concat_ws('/', fleet, unit, build_number) as id, * from results.installation;

create or replace temp table as_of as select as_of, latest_on from results.kept;
