-- pipelines/sql/44_keep.sql
-- life, installation, known_unit, built, as_of -> results.life, results.installation, results.known_unit, results.built: the same, kept in the
-- store, lives and installations less their names for people. Keys and rows: as there.
-- results.kept: what they were derived from, as $made_from, and the days that they hold for. Rows: one.
create or replace table results.life as select * exclude (id) from life order by life_id;
create or replace table results.installation as select * exclude (id) from installation order by fleet, unit, build_number;
create or replace table results.known_unit as from known_unit order by unit_id;
create or replace table results.built as from built order by place;
create or replace table results.kept as select $made_from::varchar as made_from, as_of, latest_on from as_of;
drop table temp.built;
