-- What is used by the strips and blocks of built-up edges.

-- +goose Up

ALTER TABLE sundry DROP CONSTRAINT sundry_driver_is_known;
ALTER TABLE sundry ADD CONSTRAINT sundry_driver_is_known CHECK (driver IN (
  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms', 'moulding_metre', 'clip',
  'wall_sealant_litre', 'cover_strip_metre', 'end_joint', 'laminated_square_metre', 'build_up_piece', 'shaped_cutout', 'cutout_edge_metre',
  'shown_cutout_edge_metre', 'scribed_wall_metre', 'support_bracket', 'support_leg', 'base_timber_metre'));
