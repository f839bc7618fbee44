-- pipelines/sql/11_source_plain.sql
-- The same as 11_source where no line is empty and no quote broken: staged -> temp view source. Nothing is copied.
create temp view source as select (rowid + 1)::integer as row, * from staged where rowid > 0;
