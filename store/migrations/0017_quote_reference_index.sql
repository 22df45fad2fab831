-- The beginning of a reference is often asked for together with a status: the index answers both, without a look at the offers.

-- +goose Up

DROP INDEX quote_by_reference;
CREATE INDEX quote_by_reference ON quote (lower(reference) text_pattern_ops, created_at, number) INCLUDE (reference, status, valid_until) WHERE reference <> '';
