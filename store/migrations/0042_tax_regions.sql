-- Where a shop sells to, and what is taxed there. The table of a shop that is there begins empty: rates are for it to say.

-- +goose Up

CREATE TABLE tax_region (
  code       entity_code PRIMARY KEY,
  name       label NOT NULL,
  rate       numeric(7, 4) NOT NULL CONSTRAINT tax_region_rate_in_range CHECK (rate >= 0 AND rate <= 100),
  lines_rate numeric(7, 4) CONSTRAINT tax_region_lines_rate_in_range CHECK (lines_rate >= 0 AND lines_rate <= 100),
  note       text NOT NULL DEFAULT '' CONSTRAINT tax_region_note_is_short CHECK (length(note) <= 500),
  version    bigint NOT NULL DEFAULT 1,
  retired_at timestamptz
);
COMMENT ON TABLE tax_region IS 'where the shop sells to, and what is taxed there';
COMMENT ON COLUMN tax_region.rate IS 'on the net price of a top, in percent';
COMMENT ON COLUMN tax_region.lines_rate IS 'on what is sold with it where a line names none of its own, in percent; null: as for the top';

CREATE TRIGGER tax_region_marks  AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON tax_region FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER tax_region_counts BEFORE UPDATE ON tax_region FOR EACH ROW EXECUTE FUNCTION next_version();
