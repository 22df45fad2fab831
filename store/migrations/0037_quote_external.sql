-- What other systems call an offer, and what they keep with it.

-- +goose Up

ALTER TABLE quote
  ADD COLUMN external_id text COLLATE "C" NOT NULL DEFAULT '' CONSTRAINT quote_external_id_is_short CHECK (length(external_id) <= 200),
  ADD COLUMN metadata jsonb NOT NULL DEFAULT '{}' CONSTRAINT quote_metadata_is_object CHECK (jsonb_typeof(metadata) = 'object');
COMMENT ON COLUMN quote.external_id IS 'another system''s name for it, of no other offer; empty: none';
COMMENT ON COLUMN quote.metadata IS 'texts by name, kept for another system';
