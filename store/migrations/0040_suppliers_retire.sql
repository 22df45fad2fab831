-- Suppliers can be retired; the prices that they gave stay in force until another's come.

-- +goose Up

ALTER TABLE supplier ADD COLUMN retired_at timestamptz;
COMMENT ON COLUMN supplier.retired_at IS 'sends no lists any more; the row stays, because prices, lists and article numbers hang on it';

COMMENT ON TABLE audit_entry IS 'every change made through the editing of the catalogue, and of offers; only added to. What changes the catalogue is written under the lock of catalogue_revision, so that numbers, times and revisions rise together';
COMMENT ON COLUMN audit_entry.entity IS 'part of the catalogue as in the paths: labour-standards; or quotes';
COMMENT ON COLUMN audit_entry.before IS 'the row by its columns; of an offer where it stood, without who it is for; null: it was new';
COMMENT ON COLUMN audit_entry.revision IS 'of the catalogue with the change; of an offer''s change, the one of that moment';
