-- pipelines/sql/64_one_fleet.sql
-- every_life, every_installation, every_known_unit, every_built -> life, installation, known_unit, built (temp tables): those of $fleet alone,
-- in their order. Keys: as there. A report asks a hundred questions of each fleet, and each would read through all fleets.
create or replace temp table life as from every_life where fleet = $fleet order by life_id;
create or replace temp table installation as from every_installation where fleet = $fleet order by unit, build_number;
create or replace temp table known_unit as from every_known_unit where fleet = $fleet order by unit_id;
create or replace temp table built as from every_built where fleet = $fleet order by place;
