-- Until when a call of an endpoint that is under way is waited for, by the database's clock: nobody makes it a second time before,
-- and whoever looks afterwards sends what was lost with its instance again.

-- +goose Up

ALTER TABLE webhook_delivery ADD COLUMN calling_until timestamptz;
COMMENT ON COLUMN webhook_delivery.calling_until IS 'the endpoint is called, and until then nobody else calls it; null: nobody does';
