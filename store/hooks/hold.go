package hooks

// Hold is the statement that keeps a copy of a database from telling anybody anything unasked: endpoints are switched off,
// and what was still to be sent is dead, so that it is sent by hand or not at all. It answers with one row: how many endpoints
// and how many deliveries.
const Hold = `
WITH held AS (
  UPDATE webhook_delivery SET state = 'dead', next_at = NULL, finished_at = now() WHERE state = 'pending' RETURNING number
), told AS (
  UPDATE event SET dispatched_at = now() WHERE dispatched_at IS NULL RETURNING number, kind
), made AS (
  INSERT INTO webhook_delivery (id, event, endpoint, state, finished_at)
  SELECT 'delivery_' || replace(gen_random_uuid()::text, '-', ''), t.number, w.id, 'dead', now()
  FROM told t JOIN webhook_endpoint w ON w.enabled AND (w.kinds = '{}' OR t.kind = ANY (w.kinds))
  ON CONFLICT DO NOTHING
  RETURNING number
), off AS (
  UPDATE webhook_endpoint
  SET enabled = false, disabled_why = 'Restored from a backup.', version = version + 1, updated_at = now()
  WHERE enabled
  RETURNING id
)
SELECT (SELECT count(*) FROM off), (SELECT count(*) FROM held) + (SELECT count(*) FROM made)`
