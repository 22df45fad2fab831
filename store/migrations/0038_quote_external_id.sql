-- No two offers have one external id, and it is found at once.

-- +goose NO TRANSACTION

-- +goose Up

DROP INDEX IF EXISTS quote_external_id;
CREATE UNIQUE INDEX CONCURRENTLY quote_external_id ON quote (external_id) WHERE external_id <> '';
