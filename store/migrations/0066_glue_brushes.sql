-- The demo's glue brushes go with the joints that are glued: a ready-made panel has none. What a shop has changed stays.

-- +goose Up

-- +goose StatementBegin
DO $$
BEGIN
  IF EXISTS (SELECT FROM sundry WHERE code = 'sundry_glue_brush' AND driver = 'piece' AND used = 1) THEN
    UPDATE sundry SET driver = 'glue_line_metre', used = 0.1 WHERE code = 'sundry_glue_brush';
  END IF; -- an update of nothing would raise the revision
END
$$;
-- +goose StatementEnd
