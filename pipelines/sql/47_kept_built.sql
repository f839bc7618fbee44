-- pipelines/sql/47_kept_built.sql
-- results.built -> built (a view): as if it had been derived now. Key and rows: as there.
create or replace temp view built as from results.built;
