-- Each language of papers has texts of the order form of its own: a shop that speaks another language than English and wrote its
-- texts in that keeps them there.

-- +goose Up

-- +goose StatementBegin
DO $$
DECLARE
  spoken text := (SELECT value FROM setting WHERE key = 'shop_language' AND value <> 'en');
BEGIN
  IF spoken IS NULL THEN
    RETURN; -- English; the program adds the keys that are missing
  END IF;

  INSERT INTO setting (key, value, about, source)
  SELECT key || '_' || lower(replace(spoken, '-', '_')), value, about || ', in the language ' || spoken, source
  FROM setting
  WHERE key IN ('form_intro', 'form_included', 'form_site_note', 'form_next')
    AND version > 1; -- what nobody has written is the program's
END
$$;
-- +goose StatementEnd
