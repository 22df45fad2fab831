-- What covers the gap at a wall is bought by what the walls take: litres of sealant, or metres of cover strip.

-- +goose Up

ALTER TABLE sundry DROP CONSTRAINT sundry_driver_is_known;
ALTER TABLE sundry ADD CONSTRAINT sundry_driver_is_known
  CHECK (driver IN ('top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
                    'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms',
                    'wall_sealant_litre', 'cover_strip_metre'));
ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_driver_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_driver_is_known
  CHECK (driver IN ('top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
                    'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms',
                    'wall_sealant_litre', 'cover_strip_metre'));

-- The demonstration's sealant, unless the shop has made it its own: a cartridge of 0.3 l, and a tenth for waste. An empty catalogue is
-- left alone, and its revision with it.
-- +goose StatementBegin
DO $$
BEGIN
  IF EXISTS (SELECT FROM sundry WHERE code = 'sundry_silicone' AND driver = 'piece' AND used = 0.7) THEN
    UPDATE sundry SET driver = 'wall_sealant_litre', used = 3.7 WHERE code = 'sundry_silicone';
  END IF;
END $$;
-- +goose StatementEnd
