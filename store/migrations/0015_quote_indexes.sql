-- Lists of offers run newest first by time and number, and each index of a filter holds both: a list is a walk along one
-- index, or the matches of one index sorted without a look at the offers themselves.

-- +goose Up

DROP INDEX quote_by_time, quote_by_status, quote_by_reference, quote_by_customer, quote_by_customer_name, quote_by_species,
           quote_by_total, quote_open_by_validity, quote_open_moved;

CREATE INDEX quote_by_time ON quote (created_at, number);
CREATE INDEX quote_by_status ON quote (status, created_at, number);
CREATE INDEX quote_by_reference ON quote (lower(reference) text_pattern_ops, created_at, number) INCLUDE (reference) WHERE reference <> '';
CREATE INDEX quote_by_customer ON quote (customer_reference, created_at, number) WHERE customer_reference <> '';
CREATE INDEX quote_by_customer_name ON quote (lower(customer_name), created_at, number) WHERE customer_name <> '';
CREATE INDEX quote_by_total ON quote (total, created_at, number);
CREATE INDEX quote_open_by_validity ON quote (valid_until, created_at, number) WHERE status IN ('draft', 'sent');
CREATE INDEX quote_open_moved ON quote (abs(moved), created_at, number) INCLUDE (moved) WHERE status IN ('draft', 'sent') AND moved IS NOT NULL;

-- A GIN index over all species costs an insert as much as all the others together. Most offers are of one wood, so the first
-- stands in an ordered index, and only offers with another one beside it are in the GIN index.
CREATE INDEX quote_by_species ON quote ((species[1]), created_at, number);
CREATE INDEX quote_by_further_species ON quote USING gin (species) WITH (fastupdate = off)
  WHERE species <> array_fill(species[1], ARRAY[cardinality(species)]);
