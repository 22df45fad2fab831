-- The catalogue under care: who changed what, and packs that are no longer sold but keep their prices.

-- +goose Up

ALTER TABLE item_pack ADD COLUMN retired_at timestamptz;
COMMENT ON COLUMN item_pack.retired_at IS 'no longer sold; the row stays because the prices of the past hang on it';

CREATE TABLE audit_entry (
  number   bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  at       timestamptz NOT NULL,
  actor    text NOT NULL CONSTRAINT audit_entry_actor_is_short CHECK (actor <> '' AND length(actor) <= 100),
  entity   text COLLATE "C" NOT NULL,
  code     text COLLATE "C" NOT NULL,
  action   text COLLATE "C" NOT NULL CONSTRAINT audit_entry_action_is_known CHECK (action IN ('create', 'replace', 'retire', 'restore')),
  before   json,
  after    json,
  revision bigint NOT NULL,
  CONSTRAINT audit_entry_says_what CHECK ((before IS NULL) = (action = 'create') AND (after IS NULL) = (action = 'retire'))
);
CREATE INDEX audit_entry_by_thing ON audit_entry (entity, code, number);
CREATE INDEX audit_entry_by_time ON audit_entry (at, number);
COMMENT ON TABLE audit_entry IS 'every change made through the editing of the catalogue; only added to. Written under the lock of catalogue_revision, so that numbers, times and revisions rise together';
COMMENT ON COLUMN audit_entry.entity IS 'part of the catalogue as in the paths: labour-standards';
COMMENT ON COLUMN audit_entry.before IS 'the row by its columns; null: it was new';
COMMENT ON COLUMN audit_entry.after IS 'the row by its columns; null: it was retired';

-- +goose StatementBegin
CREATE FUNCTION audit_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'entries of the audit trail are never changed or deleted';
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION audit_stays() IS 'statement trigger of audit_entry: it is only added to';

CREATE TRIGGER audit_entry_stays BEFORE UPDATE OR DELETE OR TRUNCATE ON audit_entry FOR EACH STATEMENT EXECUTE FUNCTION audit_stays();
