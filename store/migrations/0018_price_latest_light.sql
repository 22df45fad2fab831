-- A list that changes fifty thousand prices spent a quarter of a second asking as many times for its one supplier, and as much on
-- moving rows of price_latest to other pages.

-- +goose Up

-- Every row of price has one in price_latest, of the same supplier. There only a pack's first price asks for the supplier.
ALTER TABLE price_latest ADD CONSTRAINT price_latest_supplier_fkey FOREIGN KEY (supplier) REFERENCES supplier;
ALTER TABLE price DROP CONSTRAINT price_supplier_fkey;
COMMENT ON COLUMN price.supplier IS 'known: price_latest, which follows each row, refers to it';

-- Room for the next price of a row on its own page: no index needs to know of it.
ALTER TABLE price_latest SET (fillfactor = 85);
