-- A kept answer that shows a customer is emptied when the customer is erased.

-- +goose Up

ALTER TABLE idempotency ADD COLUMN about text;

COMMENT ON COLUMN idempotency.about IS 'the quote that the answer shows; null: none';
COMMENT ON COLUMN idempotency.body IS 'the answer, sealed with what the caller sent: it may show a new access key; nothing: it showed somebody who was erased since';

CREATE INDEX idempotency_about ON idempotency (about) WHERE about IS NOT NULL;
