-- Access keys: who may call, kept as hashes, and what was refused.

-- +goose Up

CREATE TABLE access_key (
  id           text COLLATE "C" PRIMARY KEY CONSTRAINT access_key_id_is_short CHECK (id ~ '^[a-z0-9]{8,32}$'),
  kind         text COLLATE "C" NOT NULL CONSTRAINT access_key_kind_is_known CHECK (kind IN ('secret', 'publishable')),
  name         label NOT NULL CONSTRAINT access_key_name_is_short CHECK (length(name) <= 60),
  scopes       text[] NOT NULL,
  origins      text[] NOT NULL,
  hash         bytea NOT NULL UNIQUE CONSTRAINT access_key_hash_is_sha256 CHECK (length(hash) = 32),
  created_at   timestamptz NOT NULL,
  created_by   text NOT NULL CONSTRAINT access_key_author_is_short CHECK (created_by <> '' AND length(created_by) <= 200),
  expires_at   timestamptz,
  revoked_at   timestamptz,
  last_used_at timestamptz,
  successor    text COLLATE "C" REFERENCES access_key,
  CONSTRAINT access_key_fits_its_kind CHECK (CASE kind WHEN 'publishable' THEN scopes = '{}' AND origins <> '{}' ELSE scopes <> '{}' AND origins = '{}' END)
);
COMMENT ON TABLE access_key IS 'who may call. The key itself is not here: only its SHA-256, which is enough for 256 random bits';
COMMENT ON COLUMN access_key.id IS 'the part of the key that may be shown';
COMMENT ON COLUMN access_key.origins IS 'of a publishable key: the pages that may use it, such as https://shop.example';
COMMENT ON COLUMN access_key.successor IS 'the key that took over when this one was rotated';

CREATE TABLE access_state (
  one     boolean PRIMARY KEY DEFAULT true CONSTRAINT access_state_is_one CHECK (one),
  version bigint NOT NULL
);
INSERT INTO access_state (version) VALUES (1);
COMMENT ON TABLE access_state IS 'one row; the version rises with every change of the keys that callers can feel';

-- +goose StatementBegin
CREATE FUNCTION access_state_rises() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE access_state SET version = version + 1;
  RETURN NULL;
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION access_state_rises() IS 'statement trigger of access_key: every instance sees that it must read the keys again';
CREATE TRIGGER access_key_changes AFTER INSERT OR DELETE OR UPDATE OF kind, name, scopes, origins, hash, expires_at, revoked_at ON access_key
  FOR EACH STATEMENT EXECUTE FUNCTION access_state_rises();

CREATE TABLE access_refusal (
  minute  timestamptz NOT NULL,
  reason  text COLLATE "C" NOT NULL CONSTRAINT access_refusal_reason_is_word CHECK (reason ~ '^[a-z_]{1,40}$'),
  route   text COLLATE "C" NOT NULL CONSTRAINT access_refusal_route_is_short CHECK (length(route) <= 200),
  key     text COLLATE "C" NOT NULL CONSTRAINT access_refusal_key_is_short CHECK (length(key) <= 32),
  address text COLLATE "C" NOT NULL CONSTRAINT access_refusal_address_is_short CHECK (length(address) <= 64),
  count   bigint NOT NULL CONSTRAINT access_refusal_counts CHECK (count > 0),
  PRIMARY KEY (minute, reason, route, key, address)
);
COMMENT ON TABLE access_refusal IS 'calls that were refused, counted by the minute; kept for 90 days';
COMMENT ON COLUMN access_refusal.key IS 'id of the key that came with it; empty: none, or none that exists';
