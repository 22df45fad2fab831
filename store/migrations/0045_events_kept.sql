-- Events are kept whether or not somebody is told of them: they can be listed, and told later to whoever asks. Those that nobody
-- wants to hear of count as dispatched at once.

-- +goose Up

-- +goose StatementBegin
CREATE OR REPLACE FUNCTION emit_event(id text, kind text, subject text, data jsonb, at timestamptz) RETURNS void LANGUAGE sql AS $$
  INSERT INTO event (id, kind, subject, data, created_at, dispatched_at)
  SELECT $1, $2, $3, $4, $5, CASE WHEN EXISTS (SELECT FROM webhook_endpoint e WHERE e.enabled AND (e.kinds = '{}' OR $2 = ANY (e.kinds))) THEN NULL ELSE $5 END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION emit_event IS 'the one way to write an event; one that nobody wants to hear of is dispatched at once';
COMMENT ON COLUMN event.dispatched_at IS 'when its deliveries were made, or were not to be made; null: they are still to be made';
