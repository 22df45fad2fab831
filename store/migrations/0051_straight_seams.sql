-- Straight seams between two pieces of one run: what cutting them takes.

-- +goose Up

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'straight', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'end_jointed', 'laminated', 'cutout', 'shaped_cutout', 'shown_cutout_edge', 'scribed_wall',
  'support_bracket', 'support_leg', 'base_timber', 'finish', 'slotted_holes'));

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
      ('seam_cut_straight', 'Cut both ends of the straight seam', 195, 'maker', 2, 'straight', 'seam_metre', 20, 30, 45, 8, 12, 22, 0, true, true, true, true, true, 'One uninterrupted pass on each piece, both ends in one setting: guide clamped, slab supported on both sides of the cut. The pieces lie in line, front to front, before they are cut.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_hardness, by_thickness, by_tool, by_experience, lifts, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE EXISTS (SELECT FROM labour_standard WHERE code = 'seam_cut_miter' AND source = 'demo' AND retired_at IS NULL)
    ON CONFLICT DO NOTHING;
  INSERT INTO labour_standard_after (step, follows)
    SELECT added.* FROM (VALUES ('seam_cut_straight', 'cut_length'), ('seam_cut_straight', 'profile_edges_before'), ('seam_skim', 'seam_cut_straight')) AS added (step, follows)
    WHERE added.step IN (SELECT code FROM labour_standard WHERE source = 'demo') AND added.follows IN (SELECT code FROM labour_standard WHERE source = 'demo')
      AND EXISTS (SELECT FROM labour_standard WHERE code = 'seam_cut_straight' AND source = 'demo')
    ON CONFLICT DO NOTHING;
END
$$;
-- +goose StatementEnd
