-- Answers to writes that carried an Idempotency-Key, kept for a day so that the same write gets the same answer.

-- +goose Up

CREATE TABLE idempotency (
  id           bytea PRIMARY KEY CONSTRAINT idempotency_id_is_sha256 CHECK (length(id) = 32),
  fingerprint  bytea NOT NULL CONSTRAINT idempotency_fingerprint_is_sha256 CHECK (length(fingerprint) = 32),
  status       int NOT NULL CONSTRAINT idempotency_status_is_success CHECK (status BETWEEN 200 AND 299),
  content_type text NOT NULL,
  location     text NOT NULL,
  etag         text NOT NULL,
  body         bytea NOT NULL,
  created_at   timestamptz NOT NULL
);
CREATE INDEX idempotency_by_age ON idempotency (created_at);
COMMENT ON TABLE idempotency IS 'answers to writes, kept for 24 hours; written in the transaction of the write itself';
COMMENT ON COLUMN idempotency.id IS 'SHA-256 of the caller and its Idempotency-Key';
COMMENT ON COLUMN idempotency.fingerprint IS 'SHA-256 of method, path, query and body: what the key was used for';
COMMENT ON COLUMN idempotency.body IS 'the answer, sealed with what the caller sent: it may show a new access key';
