-- Slabs with built-up edges: what fitting strips and blocks below them takes.

-- +goose Up

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'straight', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'end_jointed', 'laminated', 'built_up', 'cutout', 'shaped_cutout', 'shown_cutout_edge', 'scribed_wall',
  'support_bracket', 'support_leg', 'base_timber', 'finish', 'slotted_holes', 'let_in_fixings'));

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_driver_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'end_joint', 'laminated_square_metre', 'build_up_piece', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre', 'scribed_wall_metre', 'support_bracket', 'support_leg', 'base_timber_metre'));

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  -- Shops that work with the demo's own step get the one that goes with it.
  INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_tool, by_experience, lifts, note, source)
    SELECT added.* FROM (VALUES
      ('fit_build_up', 'Cut and fit the strips and blocks of the built-up edge', 145, 'maker', 1, 'built_up', 'build_up_piece', 15, 25, 40, 3, 5, 9, 0, true, true, false, true, false, 'All with their grain the slab''s way; dry on the slab first, without a gap, joints away from the slab''s.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_tool, by_experience, lifts, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'laminate' AND source = 'demo' AND retired_at IS NULL)
    ON CONFLICT DO NOTHING;
  INSERT INTO labour_standard_after (step, follows)
    SELECT added.* FROM (VALUES ('fit_build_up', 'plane_layers'), ('laminate', 'fit_build_up')) AS added (step, follows)
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'fit_build_up' AND source = 'demo')
    ON CONFLICT DO NOTHING;
END
$$;
-- +goose StatementEnd
