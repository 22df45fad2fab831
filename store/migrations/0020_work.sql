-- Work and what it gives: steps that lift take as many people as the heaviest piece needs; a step says what the customer gets by it, so
-- that papers and price say the same. Tools' wear is charged by use, whatever the shop charges. An applied moulding and bought clips
-- are drivers of their own.

-- +goose Up

ALTER TABLE labour_standard
  ADD COLUMN lifts boolean NOT NULL DEFAULT false,
  ADD COLUMN gives text COLLATE "C" NOT NULL DEFAULT '' CONSTRAINT labour_standard_gives_is_known CHECK (gives IN ('', 'measuring', 'delivery', 'joining', 'fitting'));
COMMENT ON COLUMN labour_standard.lifts IS 'slabs are lifted or turned: the crew is at least as many as the heaviest piece needs';
COMMENT ON COLUMN labour_standard.gives IS 'what the customer gets by the step besides the top; empty: nothing';

ALTER TABLE sundry ADD COLUMN by_use boolean NOT NULL DEFAULT false;
COMMENT ON COLUMN sundry.by_use IS 'charged by what is used, whatever the shop charges';

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'cutout', 'finish', 'slotted_holes'));

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_driver_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre'));

ALTER TABLE sundry DROP CONSTRAINT sundry_driver_is_known;
ALTER TABLE sundry ADD CONSTRAINT sundry_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre'));
