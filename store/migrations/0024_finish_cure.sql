-- +goose Up

-- How long a finish takes to cure fully, so that an answer can say when water and food may come to it. Unknown for finishes of before;
-- the shipped, invented ones get their round figures, as far as the shop still has them.

ALTER TABLE finish ADD COLUMN cure_days double precision CONSTRAINT finish_cure_days_in_range CHECK (cure_days > 0 AND cure_days <= 365);
COMMENT ON COLUMN finish.cure_days IS 'days from the last coat until it is fully cured; null: not known, ask its maker';

-- +goose StatementBegin
DO $$
BEGIN
  IF EXISTS (SELECT FROM finish) THEN
    UPDATE finish SET cure_days = shipped.days
    FROM (VALUES ('finish_hardwax_oil', 'hardwax_oil', 14), ('finish_tung_oil', 'tung_oil', 30), ('finish_film_varnish', 'film_varnish', 30),
      ('finish_water_based_lacquer', 'water_based_lacquer', 21), ('finish_mineral_oil_wax', 'mineral_oil_wax', 2)) AS shipped (code, system, days)
    WHERE finish.code = shipped.code AND finish.system = shipped.system;
  END IF;
END
$$;
-- +goose StatementEnd
