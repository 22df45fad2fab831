-- Ready-made panels are glued up from whole staves or from finger-jointed ones, and priced by it.

-- +goose Up

ALTER TABLE panel ADD COLUMN finger_jointed boolean NOT NULL DEFAULT false;
COMMENT ON COLUMN panel.finger_jointed IS 'its staves are joined end to end from short pieces';
