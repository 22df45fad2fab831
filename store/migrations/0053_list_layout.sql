-- How a supplier's own lists look: which header stands for which column, and what the supplier calls units.

-- +goose Up

ALTER TABLE supplier ADD COLUMN list_layout json CONSTRAINT supplier_list_layout_is_object CHECK (json_typeof(list_layout) = 'object' AND length(list_layout::text) <= 65536);
COMMENT ON COLUMN supplier.list_layout IS 'how the supplier''s lists look that have a header: sheet, header_line, columns (plain name to header), units (word and unit), separator, decimal_sign, currency, unit; null: plain names';
