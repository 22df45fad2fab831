-- Cut-outs as they are made: what their templates, edges and sealing take. Slabs of layers: what gluing them takes.

-- +goose Up

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'laminated', 'cutout', 'shaped_cutout', 'shown_cutout_edge', 'finish', 'slotted_holes'));

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_driver_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'laminated_square_metre', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre'));

ALTER TABLE sundry DROP CONSTRAINT sundry_driver_is_known;
ALTER TABLE sundry ADD CONSTRAINT sundry_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'laminated_square_metre', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre'));

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  -- Shops that work with the demo's own step get those that go with it.
  INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_experience, note, source)
    SELECT added.* FROM (VALUES
      ('cutout_template', 'Make the router template of each shaped cut-out', 262, 'maker', 1, 'shaped_cutout', 'shaped_cutout', 5, 10, 20, 15, 25, 45, 0, false, false, true, 'Checked against the appliance itself before it touches the top.', 'demo'),
      ('profile_cutout', 'Profile and sand the cut edges that show', 272, 'maker', 1, 'shown_cutout_edge', 'shown_cutout_edge_metre', 10, 15, 25, 8, 12, 20, 0, true, true, true, 'The router is fed slowly over end grain.', 'demo'),
      ('seal_cutout', 'Seal the cut edges of the cut-outs', 274, 'maker', 1, 'shaped_cutout', 'cutout_edge_metre', 4, 6, 10, 4, 6, 10, 0, false, false, true, 'Every cut edge, end grain twice.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_experience, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'cut_out' AND source = 'demo' AND retired_at IS NULL)
    ON CONFLICT DO NOTHING;
  INSERT INTO labour_standard_after (step, follows)
    SELECT added.* FROM (VALUES ('cutout_template', 'trial_fit'), ('cut_out', 'cutout_template'), ('trial_assembly', 'seal_cutout'), ('profile_cutout', 'cut_out'), ('seal_cutout', 'cut_out'), ('seal_cutout', 'profile_cutout')) AS added (step, follows)
    WHERE added.step IN (SELECT code FROM labour_standard WHERE source = 'demo') AND added.follows IN (SELECT code FROM labour_standard WHERE source = 'demo')
      AND EXISTS (SELECT FROM labour_standard WHERE code = 'seal_cutout' AND source = 'demo')
    ON CONFLICT DO NOTHING;

  INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_experience, lifts, note, source)
    SELECT added.* FROM (VALUES
      ('plane_layers', 'Plane the layers'' faces flat and to one thickness', 144, 'maker', 2, 'laminated', 'laminated_square_metre', 20, 30, 45, 12, 18, 30, 0, true, true, true, 'Both faces of every layer that meets another; no gap when they lie dry on each other.', 'demo'),
      ('laminate', 'Glue the layers on each other', 146, 'maker', 3, 'laminated', 'laminated_square_metre', 30, 45, 70, 12, 18, 30, 12, false, true, true, 'Grain the same way, joints shifted by half a stave; pressure from the middle outwards, all over.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_experience, lifts, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'flatten' AND source = 'demo' AND retired_at IS NULL)
    ON CONFLICT DO NOTHING;
  INSERT INTO labour_standard_after (step, follows)
    SELECT added.* FROM (VALUES ('plane_layers', 'flatten'), ('plane_layers', 'panel_trim'), ('laminate', 'plane_layers'), ('cut_length', 'laminate')) AS added (step, follows)
    WHERE added.step IN (SELECT code FROM labour_standard WHERE source = 'demo') AND added.follows IN (SELECT code FROM labour_standard WHERE source = 'demo')
      AND EXISTS (SELECT FROM labour_standard WHERE code = 'laminate' AND source = 'demo')
    ON CONFLICT DO NOTHING;
END
$$;
-- +goose StatementEnd
