-- The shop's logo, for the head of offers and shop sheets.

-- +goose Up

CREATE TABLE letterhead_logo (
  one        boolean PRIMARY KEY DEFAULT true CONSTRAINT letterhead_logo_is_one CHECK (one),
  media      text COLLATE "C" NOT NULL CONSTRAINT letterhead_logo_media_is_known CHECK (media IN ('image/png', 'image/jpeg')),
  image      bytea NOT NULL CONSTRAINT letterhead_logo_is_small CHECK (length(image) BETWEEN 1 AND 262144),
  version    bigint NOT NULL,
  updated_at timestamptz NOT NULL,
  updated_by text NOT NULL CONSTRAINT letterhead_logo_author_is_short CHECK (updated_by <> '' AND length(updated_by) <= 200)
);
COMMENT ON TABLE letterhead_logo IS 'at most one row';

-- Versions go on where they were when a logo is deleted, so that no ETag ever means two pictures.
CREATE SEQUENCE letterhead_logo_version AS bigint;
