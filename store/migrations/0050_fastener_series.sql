-- Hardware comes in metric and in imperial sizes.

-- +goose Up

ALTER TABLE fastener ADD COLUMN series text NOT NULL DEFAULT '' CONSTRAINT fastener_series_is_known CHECK (series IN ('', 'metric', 'imperial'));
COMMENT ON COLUMN fastener.series IS 'sizes that it is made in; empty: it is sold alike everywhere';
