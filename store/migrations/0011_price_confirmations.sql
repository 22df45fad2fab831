-- Which lists confirmed a price: an old price that every list repeats is not stale.

-- +goose Up

CREATE TABLE price_list_day (
  supplier entity_code NOT NULL REFERENCES supplier ON DELETE CASCADE,
  day      date NOT NULL,
  PRIMARY KEY (supplier, day)
);
COMMENT ON TABLE price_list_day IS 'days on which lists of a supplier took effect that were applied, or had nothing new to say: they confirm every price in force but those of price_silence';

CREATE TABLE price_silence (
  supplier entity_code NOT NULL,
  item     entity_code NOT NULL,
  size     numeric(12, 4) NOT NULL,
  days     datemultirange NOT NULL,
  PRIMARY KEY (supplier, item, size)
);
COMMENT ON TABLE price_silence IS 'on which of a supplier''s list days no list confirmed the price of a pack; kept for good, as ranges';
COMMENT ON COLUMN price_silence.days IS 'days between two such list days may be in it as well: only list days are asked for';

INSERT INTO price_list_day (supplier, day)
SELECT DISTINCT supplier, effective_from FROM price_update WHERE status IN ('applied', 'unchanged');

INSERT INTO price_silence (supplier, item, size, days)
SELECT u.supplier, a.item, a.size, range_agg(daterange(u.effective_from, u.effective_from + 1))
FROM price_update_absent a
JOIN price_update u ON u.number = a.update_number
WHERE NOT EXISTS (
  SELECT FROM price_update o
  WHERE o.supplier = u.supplier AND o.effective_from = u.effective_from AND o.status IN ('applied', 'unchanged')
    AND NOT EXISTS (SELECT FROM price_update_absent b WHERE b.update_number = o.number AND b.item = a.item AND b.size = a.size))
GROUP BY u.supplier, a.item, a.size;

CREATE TRIGGER price_list_day_marks AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON price_list_day FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER price_silence_marks  AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON price_silence  FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
