-- Terms may be longer than 200 letters, and each language of papers has terms of its own: a shop that wrote its terms in another language
-- than English keeps them there.

-- +goose Up

ALTER TABLE setting DROP CONSTRAINT setting_value_is_short,
  ADD CONSTRAINT setting_value_is_short CHECK (length(value) <= 2000);

-- +goose StatementBegin
DO $$
DECLARE
  spoken text := (SELECT value FROM setting WHERE key = 'shop_language' AND value <> 'en');
BEGIN
  IF spoken IS NULL OR NOT EXISTS (SELECT FROM setting WHERE key = 'quote_terms' AND version > 1) THEN
    RETURN; -- English, or terms that nobody has written; the program adds the keys that are missing
  END IF;

  INSERT INTO setting (key, value, about, source)
  SELECT 'quote_terms_' || lower(replace(spoken, '-', '_')), value, 'terms of an offer in the language ' || spoken || ', when the quote does not say', source
  FROM setting WHERE key = 'quote_terms';
END
$$;
-- +goose StatementEnd
