-- What it takes to set threaded inserts into the top.

-- +goose Up

ALTER TABLE labour_standard DROP CONSTRAINT labour_standard_condition_is_known;
ALTER TABLE labour_standard ADD CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'straight', 'site_template', 'scribe',
  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'end_jointed', 'laminated', 'built_up', 'cutout', 'shaped_cutout', 'shown_cutout_edge', 'scribed_wall',
  'support_bracket', 'support_leg', 'base_timber', 'finish', 'slotted_holes', 'let_in_fixings', 'threaded_inserts'));
