-- What carries the top and comes with it: brackets, legs, blocking and battens, and what they take.

-- +goose Up

ALTER TABLE item DROP CONSTRAINT item_kind_is_known;
ALTER TABLE item ADD CONSTRAINT item_kind_is_known CHECK (kind IN (
  'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw', 'support_bracket', 'support_leg',
  'lumber', 'panel', 'glue', 'finish', 'sundry'));

ALTER TABLE fastener DROP CONSTRAINT fastener_kind_is_known;
ALTER TABLE fastener ADD CONSTRAINT fastener_kind_is_known CHECK (kind IN (
  'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw', 'support_bracket', 'support_leg'));

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'end_jointed', 'laminated', 'cutout', 'shaped_cutout', 'shown_cutout_edge', 'scribed_wall',
  'support_bracket', 'support_leg', 'base_timber', 'finish', 'slotted_holes'));

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_driver_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'end_joint', 'laminated_square_metre', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre', 'scribed_wall_metre', 'support_bracket', 'support_leg', 'base_timber_metre'));

ALTER TABLE sundry DROP CONSTRAINT sundry_driver_is_known;
ALTER TABLE sundry ADD CONSTRAINT sundry_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'end_joint', 'laminated_square_metre', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre', 'scribed_wall_metre', 'support_bracket', 'support_leg', 'base_timber_metre'));

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  -- Shops that work with the demo's own steps get those that go with them. What is bought for them a shop enters itself.
  INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_experience, gives, note, source)
    SELECT added.* FROM (VALUES
      ('fit_base_timber', 'Fit the blocking under the seams and the battens', 422, 'installer', 1, 'base_timber', 'base_timber_metre', 10, 15, 25, 8, 12, 22, 0, true, 'fitting', 'Level with the base; into studs or with anchors that suit the wall.', 'demo'),
      ('fit_brackets', 'Fit the brackets', 424, 'installer', 1, 'support_bracket', 'support_bracket', 10, 15, 25, 8, 12, 22, 0, true, 'fitting', 'Into solid wood or studs, level with the base; their screws into the top stand in slots across the grain.', 'demo'),
      ('fit_legs', 'Set the legs', 426, 'installer', 1, 'support_leg', 'support_leg', 5, 10, 15, 10, 15, 25, 0, true, 'fitting', 'Level with the base; their screws into the top stand in slots across the grain.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_experience, gives, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'check_base' AND source = 'demo' AND retired_at IS NULL)
    ON CONFLICT DO NOTHING;
  INSERT INTO labour_standard_after (step, follows)
    SELECT added.* FROM (VALUES ('fit_base_timber', 'check_base'), ('fit_brackets', 'check_base'), ('fit_legs', 'check_base'),
      ('join_on_site', 'fit_base_timber'), ('join_on_site', 'fit_brackets'), ('join_on_site', 'fit_legs')) AS added (step, follows)
    WHERE added.step IN (SELECT code FROM labour_standard WHERE source = 'demo') AND added.follows IN (SELECT code FROM labour_standard WHERE source = 'demo')
    ON CONFLICT DO NOTHING;
END
$$;
-- +goose StatementEnd
