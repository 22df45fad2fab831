-- Each filter of a list of offers has an index that also holds the list's order, time and number: a list is a walk along
-- one index, or the matches of one index are sorted without a look at the offers themselves.

-- +goose Up

DROP INDEX quote_by_reference, quote_by_total, quote_open_by_validity, quote_open_newest_moved;
CREATE INDEX quote_by_reference ON quote (lower(reference) text_pattern_ops, created_at, number) INCLUDE (reference) WHERE reference <> '';
CREATE INDEX quote_by_total ON quote (total, created_at, number);
CREATE INDEX quote_open_by_validity ON quote (valid_until, created_at, number) WHERE status IN ('draft', 'sent');
CREATE INDEX quote_open_moved ON quote (abs(moved), created_at, number) INCLUDE (moved) WHERE status IN ('draft', 'sent') AND moved IS NOT NULL;

-- The GIN index over all species cost an insert as much as all other indexes together, and has no order. Most offers are of
-- one wood: the first stands in an index, further ones in a table.
DROP INDEX quote_by_species;
CREATE INDEX quote_newest_of_species ON quote ((species[1]), created_at DESC, number DESC);

CREATE TABLE quote_further_species (
  number          bigint NOT NULL REFERENCES quote (number),
  further_species text COLLATE "C" NOT NULL,
  created_at      timestamptz NOT NULL,
  PRIMARY KEY (number, further_species)
);
CREATE INDEX quote_newest_of_further_species ON quote_further_species (further_species, created_at DESC, number DESC);
COMMENT ON TABLE quote_further_species IS 'species of an offer other than its first; number and time are the offer''s';

-- +goose StatementBegin
CREATE FUNCTION quote_notes_further_species() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM quote_further_species WHERE number = NEW.number;
  INSERT INTO quote_further_species (number, further_species, created_at)
  SELECT DISTINCT NEW.number, s, NEW.created_at FROM unnest(NEW.species) s WHERE s <> NEW.species[1];
  RETURN NULL;
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION quote_notes_further_species() IS 'row trigger of quote: keeps quote_further_species';
CREATE TRIGGER quote_notes_further_species AFTER INSERT ON quote FOR EACH ROW
  WHEN (NEW.species <> array_fill(NEW.species[1], ARRAY[cardinality(NEW.species)])) EXECUTE FUNCTION quote_notes_further_species();
CREATE TRIGGER quote_changes_further_species AFTER UPDATE OF species ON quote FOR EACH ROW
  WHEN (NEW.species <> OLD.species) EXECUTE FUNCTION quote_notes_further_species();

INSERT INTO quote_further_species (number, further_species, created_at)
SELECT DISTINCT q.number, s, q.created_at FROM quote q, unnest(q.species) s WHERE s <> q.species[1];
