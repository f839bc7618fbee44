-- pipelines/sql/65_forecast_made.sql
-- serving, serving_slot, opened_otherwise, cause, opening_life, renewed, used -> nothing: what a forecast was read from, where the connection goes
-- on to other questions. It holds a row for each frame in service and each opening of the fleets.
drop table if exists used;
drop table if exists renewed;
drop view if exists opening_life;
drop table if exists cause;
drop table if exists opened_otherwise;
drop table if exists serving_slot;
drop table if exists serving;
