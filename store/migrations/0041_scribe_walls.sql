-- Edges that are scribed to walls that are not straight: what that takes.

-- +goose Up

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'end_jointed', 'laminated', 'cutout', 'shaped_cutout', 'shown_cutout_edge', 'scribed_wall', 'finish', 'slotted_holes'));

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_driver_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'end_joint', 'laminated_square_metre', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre', 'scribed_wall_metre'));

ALTER TABLE sundry DROP CONSTRAINT sundry_driver_is_known;
ALTER TABLE sundry ADD CONSTRAINT sundry_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'end_joint', 'laminated_square_metre', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre', 'scribed_wall_metre'));

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  -- Shops that work with the demo's own step get the one that goes with it.
  INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_experience, note, source)
    SELECT added.* FROM (VALUES
      ('scribe_walls', 'Scribe the edges to walls that are not straight', 282, 'maker', 1, 'scribed_wall', 'scribed_wall_metre', 10, 15, 25, 8, 12, 22, 0, true, true, true, 'By the scribe table, station by station; undercut a little, so that the upper edge meets the wall.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_experience, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'trial_fit' AND source = 'demo' AND retired_at IS NULL)
    ON CONFLICT DO NOTHING;
  INSERT INTO labour_standard_after (step, follows)
    SELECT added.* FROM (VALUES ('scribe_walls', 'trial_fit'), ('trial_assembly', 'scribe_walls')) AS added (step, follows)
    WHERE added.step IN (SELECT code FROM labour_standard WHERE source = 'demo') AND added.follows IN (SELECT code FROM labour_standard WHERE source = 'demo')
      AND EXISTS (SELECT FROM labour_standard WHERE code = 'scribe_walls' AND source = 'demo')
    ON CONFLICT DO NOTHING;
END
$$;
-- +goose StatementEnd
