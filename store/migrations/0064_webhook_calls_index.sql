-- The few deliveries whose endpoint is being called.

-- +goose NO TRANSACTION

-- +goose Up

DROP INDEX IF EXISTS webhook_delivery_calling;
CREATE INDEX CONCURRENTLY webhook_delivery_calling ON webhook_delivery (calling_until) WHERE calling_until IS NOT NULL;
