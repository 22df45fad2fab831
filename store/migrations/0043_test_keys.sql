-- Keys that try: whatever they write is answered as if it were done, and taken back.

-- +goose Up

ALTER TABLE access_key ADD COLUMN test boolean NOT NULL DEFAULT false;
COMMENT ON COLUMN access_key.test IS 'what it writes is answered and taken back';
