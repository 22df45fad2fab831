-- Webhooks: who is told of events, and what became of telling them. The queue that drives it has a schema of its own
-- (river), which its library migrates.

-- +goose Up

CREATE TABLE webhook_endpoint (
  id             text COLLATE "C" PRIMARY KEY CONSTRAINT webhook_endpoint_id_is_short CHECK (id <> '' AND length(id) <= 64),
  url            text NOT NULL CONSTRAINT webhook_endpoint_url_is_short CHECK (length(url) BETWEEN 8 AND 2000),
  description    text NOT NULL CONSTRAINT webhook_endpoint_description_is_short CHECK (length(description) <= 200),
  kinds          text[] COLLATE "C" NOT NULL,
  enabled        boolean NOT NULL,
  disabled_why   text CONSTRAINT webhook_endpoint_reason_is_short CHECK (length(disabled_why) <= 200),
  secret         bytea NOT NULL CONSTRAINT webhook_endpoint_secret_is_long CHECK (length(secret) BETWEEN 24 AND 64),
  earlier_secret bytea CONSTRAINT webhook_endpoint_earlier_secret_is_long CHECK (length(earlier_secret) BETWEEN 24 AND 64),
  earlier_until  timestamptz,
  version        bigint NOT NULL DEFAULT 1,
  created_at     timestamptz NOT NULL,
  created_by     text NOT NULL CONSTRAINT webhook_endpoint_author_is_short CHECK (created_by <> '' AND length(created_by) <= 200),
  updated_at     timestamptz NOT NULL,
  CONSTRAINT webhook_endpoint_earlier_secret_ends CHECK ((earlier_secret IS NULL) = (earlier_until IS NULL)),
  CONSTRAINT webhook_endpoint_says_why CHECK (enabled <= (disabled_why IS NULL))
);
COMMENT ON TABLE webhook_endpoint IS 'who wants to be told of events';
COMMENT ON COLUMN webhook_endpoint.kinds IS 'of events; empty: all';
COMMENT ON COLUMN webhook_endpoint.disabled_why IS 'null: somebody switched it off';
COMMENT ON COLUMN webhook_endpoint.secret IS 'signs what is sent, and so cannot be kept as a hash';
COMMENT ON COLUMN webhook_endpoint.earlier_secret IS 'signs as well, for a time after the secret was changed';

ALTER TABLE event ADD COLUMN dispatched_at timestamptz;
UPDATE event SET dispatched_at = created_at; -- nobody could have asked to be told
CREATE INDEX event_waiting ON event (number) WHERE dispatched_at IS NULL;
COMMENT ON COLUMN event.dispatched_at IS 'when its deliveries were made; null: they are still to be made';

CREATE TABLE webhook_delivery (
  number      bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  id          text COLLATE "C" NOT NULL UNIQUE CONSTRAINT webhook_delivery_id_is_short CHECK (id <> '' AND length(id) <= 64),
  event       bigint NOT NULL REFERENCES event ON DELETE CASCADE,
  endpoint    text COLLATE "C" NOT NULL REFERENCES webhook_endpoint ON DELETE CASCADE,
  state       text COLLATE "C" NOT NULL DEFAULT 'pending' CONSTRAINT webhook_delivery_state_is_known CHECK (state IN ('pending', 'delivered', 'dead')),
  tries       int NOT NULL DEFAULT 0,
  attempts    int NOT NULL DEFAULT 0,
  round       int NOT NULL DEFAULT 1,
  next_at     timestamptz,
  finished_at timestamptz,
  UNIQUE (event, endpoint),
  CONSTRAINT webhook_delivery_is_over_or_not CHECK ((state = 'pending') = (finished_at IS NULL) AND (state = 'pending') = (next_at IS NOT NULL))
);
CREATE INDEX webhook_delivery_by_endpoint ON webhook_delivery (endpoint, number);
CREATE INDEX webhook_delivery_dead ON webhook_delivery (number) WHERE state = 'dead';
CREATE INDEX webhook_delivery_pending ON webhook_delivery (number) WHERE state = 'pending';
COMMENT ON TABLE webhook_delivery IS 'one event for one endpoint';
COMMENT ON COLUMN webhook_delivery.tries IS 'failed attempts since it was last set going';
COMMENT ON COLUMN webhook_delivery.attempts IS 'attempts of all times';
COMMENT ON COLUMN webhook_delivery.round IS 'rises when it is sent again by hand; jobs of earlier rounds do nothing';

CREATE SCHEMA IF NOT EXISTS river;

CREATE TABLE webhook_attempt (
  delivery bigint NOT NULL REFERENCES webhook_delivery ON DELETE CASCADE,
  number   int NOT NULL,
  at       timestamptz NOT NULL,
  took_ms  int NOT NULL,
  status   int,
  failure  text CONSTRAINT webhook_attempt_failure_is_short CHECK (length(failure) <= 300),
  PRIMARY KEY (delivery, number)
);
COMMENT ON COLUMN webhook_attempt.status IS 'of the answer; null: none came';
COMMENT ON COLUMN webhook_attempt.failure IS 'null: it was delivered';

-- +goose StatementBegin
CREATE OR REPLACE FUNCTION emit_event(id text, kind text, subject text, data jsonb, at timestamptz) RETURNS void LANGUAGE sql AS $$
  INSERT INTO event (id, kind, subject, data, created_at)
  SELECT $1, $2, $3, $4, $5
  WHERE EXISTS (SELECT FROM webhook_endpoint e WHERE e.enabled AND (e.kinds = '{}' OR $2 = ANY (e.kinds)))
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION emit_event IS 'the one way to write an event; one that nobody wants to hear of is not kept';
