-- Boards may be sold by the cubic metre.

-- +goose Up

ALTER TABLE item DROP CONSTRAINT item_unit_is_known;
ALTER TABLE item ADD CONSTRAINT item_unit_is_known CHECK (unit IN ('each', 'board_foot', 'cubic_metre', 'litre', 'metre'));
ALTER TABLE item DROP CONSTRAINT item_unit_fits_kind;
ALTER TABLE item ADD CONSTRAINT item_unit_fits_kind CHECK (CASE kind
    WHEN 'lumber' THEN unit IN ('board_foot', 'cubic_metre')
    WHEN 'glue'   THEN unit = 'litre'
    WHEN 'finish' THEN unit = 'litre'
    WHEN 'sundry' THEN unit IN ('each', 'litre', 'metre')
    ELSE unit = 'each' END);
