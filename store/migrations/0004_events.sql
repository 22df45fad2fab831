-- What happened that somebody outside may want to hear of. An event is written in the transaction that makes it true.

-- +goose Up

CREATE TABLE event (
  number     bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  id         text COLLATE "C" NOT NULL UNIQUE CONSTRAINT event_id_is_short CHECK (id <> '' AND length(id) <= 64),
  kind       text COLLATE "C" NOT NULL CONSTRAINT event_kind_is_word CHECK (kind ~ '^[a-z_]+\.[a-z_]+$'),
  subject    text COLLATE "C" NOT NULL CONSTRAINT event_subject_is_short CHECK (subject <> '' AND length(subject) <= 64),
  data       jsonb NOT NULL CONSTRAINT event_data_is_object CHECK (jsonb_typeof(data) = 'object'),
  created_at timestamptz NOT NULL
);
CREATE INDEX event_by_time ON event (created_at);
COMMENT ON TABLE event IS 'what happened, for those who asked to be told';
COMMENT ON COLUMN event.kind IS 'such as quote.created, quote.status_changed, quote.drifted, price_update.applied';
COMMENT ON COLUMN event.subject IS 'identifier of the thing it happened to';

-- +goose StatementBegin
CREATE FUNCTION emit_event(id text, kind text, subject text, data jsonb, at timestamptz) RETURNS void LANGUAGE sql AS $$
  INSERT INTO event (id, kind, subject, data, created_at) VALUES ($1, $2, $3, $4, $5)
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION emit_event IS 'the one way to write an event';
