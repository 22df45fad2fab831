-- The demo catalogue of databases that were seeded before: its steps as the seed has them now. A step that the shop has changed stays as
-- it is; what a step gives, which steps lift, and what is charged by use is said of all, as nobody could say it before.

-- +goose Up

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  CREATE TEMPORARY TABLE untouched ON COMMIT DROP AS
    SELECT code FROM labour_standard WHERE source = 'demo' AND version = 1 AND retired_at IS NULL;

  UPDATE labour_standard SET by_experience = true WHERE code IN (SELECT code FROM untouched) AND code IN ('site_visit', 'site_template', 'measure_moisture', 'rough_cut', 'rip_staves', 'mill_staves', 'joint_edges', 'dry_layout', 'glue_up', 'flatten', 'check_panels', 'panel_trim', 'cut_length', 'scribe_corner', 'seam_cut_miter', 'seam_cut_butt', 'seam_cut_masons', 'seam_skim', 'trial_fit', 'align_slots_biscuit', 'align_slots_tenon', 'bore_pockets', 'enlarge_holes', 'bore_draw_bolts', 'cut_out', 'profile_edges_before', 'trial_assembly', 'level_seam', 'profile_edges_after', 'carve_corner', 'cope_moulding', 'fit_moulding', 'ease_edges', 'sand_faces', 'sand_edges', 'take_apart', 'cut_base_slots', 'finish_coat', 'check_base', 'join_on_site', 'tighten_screws', 'tighten_bolts', 'install_base_fixings', 'seal_seam', 'set_wall_gap');
  UPDATE labour_standard SET lifts = true WHERE code IN ('cut_length', 'scribe_trip', 'scribe_corner', 'seam_cut_miter', 'seam_cut_butt', 'seam_cut_masons', 'trial_fit', 'cut_out', 'trial_assembly', 'take_apart', 'pack', 'deliver', 'join_on_site');
  UPDATE labour_standard SET gives = 'measuring' WHERE code = 'site_visit';
  UPDATE labour_standard SET gives = 'delivery' WHERE code = 'deliver';
  UPDATE labour_standard SET gives = 'joining' WHERE code IN ('join_on_site', 'tighten_screws', 'tighten_bolts', 'seal_seam');
  UPDATE labour_standard SET gives = 'fitting' WHERE code IN ('check_base', 'install_base_fixings', 'set_wall_gap');
  UPDATE sundry SET by_use = true WHERE code IN ('sundry_router_bit_wear', 'sundry_saw_blade_wear');

  -- A bought clip brings its slot.
  UPDATE labour_standard SET condition = 'slotted_holes' WHERE code = 'cut_base_slots' AND code IN (SELECT code FROM untouched);

  -- Edges are moulded before the seam is cut, and slabs scribed on the site.
  UPDATE labour_standard SET place = 155, note = 'Before the seam is cut, so that the seam cut cleans the tips.' WHERE code = 'profile_edges_before' AND code IN (SELECT code FROM untouched);
  DELETE FROM labour_standard_after WHERE step = 'profile_edges_before' AND follows = 'trial_fit' AND step IN (SELECT code FROM untouched);
  DELETE FROM labour_standard_after WHERE step = 'trial_assembly' AND follows = 'profile_edges_before' AND 'profile_edges_before' IN (SELECT code FROM untouched);
  INSERT INTO labour_standard_after (step, follows)
    SELECT * FROM (VALUES ('profile_edges_before', 'cut_length'), ('seam_cut_miter', 'profile_edges_before'), ('seam_cut_butt', 'profile_edges_before'),
      ('seam_cut_masons', 'profile_edges_before')) AS added (step, follows)
    WHERE step IN (SELECT code FROM untouched) AND follows IN (SELECT code FROM labour_standard) AND 'profile_edges_before' IN (SELECT code FROM untouched)
    ON CONFLICT DO NOTHING;

  INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_experience, lifts, note, source)
    SELECT added.* FROM (VALUES
      ('scribe_trip', 'Take the uncut slabs to the site, lay them on the levelled base, bring them back', 157, 'installer', 2, 'scribe', 'hundred_kilograms', 70, 110, 200, 16, 26, 55, 0, false, true, 'A trip of its own: scribing needs both slabs on their base before the seam is cut.', 'demo'),
      ('fit_moulding', 'Cut the edge moulding, mitre its outer corners and fix it', 335, 'maker', 1, 'coped_corner', 'moulding_metre', 15, 25, 40, 6, 9, 16, 0, true, false, 'Along the front glued or screwed; across the ends in slotted holes, fixed at the front only, so that the slab can move behind it.', 'demo')
    ) AS added (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high,
      wait_hours, by_experience, lifts, note, source)
    JOIN labour_role r ON r.code = added.role
    WHERE (SELECT count(*) FROM untouched WHERE code IN ('scribe_corner', 'cope_moulding', 'cut_length', 'trial_assembly', 'ease_edges')) = 5
    ON CONFLICT DO NOTHING;
  UPDATE labour_standard SET name = 'Scribe the slabs to each other where they lie', note = 'On the site, during the trip; replaces the nominal angle.' WHERE code = 'scribe_corner' AND code IN (SELECT code FROM untouched);
  UPDATE labour_standard SET name = 'Cope the edge moulding at the inner corner', note = 'One side runs through, the other is cut to its profile.' WHERE code = 'cope_moulding' AND code IN (SELECT code FROM untouched);
  DELETE FROM labour_standard_after WHERE step = 'scribe_corner' AND follows = 'cut_length' AND EXISTS (SELECT FROM labour_standard WHERE code = 'scribe_trip' AND source = 'demo');
  INSERT INTO labour_standard_after (step, follows)
    SELECT * FROM (VALUES ('scribe_trip', 'cut_length'), ('scribe_trip', 'profile_edges_before'), ('scribe_corner', 'scribe_trip'),
      ('fit_moulding', 'cope_moulding'), ('ease_edges', 'fit_moulding')) AS added (step, follows)
    WHERE (SELECT count(*) FROM labour_standard WHERE code IN ('scribe_trip', 'fit_moulding') AND source = 'demo') = 2
      AND step IN (SELECT code FROM labour_standard) AND follows IN (SELECT code FROM labour_standard)
      AND ('profile_edges_before' NOT IN (step, follows) OR 'profile_edges_before' IN (SELECT code FROM untouched))
    ON CONFLICT DO NOTHING;

  -- What the order form says is included follows from the work; the shop's own sentence says the rest.
  UPDATE setting SET value = 'Making to measure is included.' WHERE key = 'form_included' AND value = 'Measuring on site, making and fitting are included.';
END
$$;
-- +goose StatementEnd
