-- Notes of the demo's steps are read with tops of every shape, and spoke of corners and seams where a straight one has none. What a
-- shop has changed stays.

-- +goose Up

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM labour_standard) THEN
    RETURN; -- the seed comes after the migrations, and an update of nothing would raise the revision
  END IF;

  UPDATE labour_standard s SET note = n.note
  FROM (VALUES
    ('site_visit', 'Tape three lengths at every corner; look for the way in.', 'Tape every length twice; three lengths give the angle where walls meet. Look for the way in.'),
    ('glue_up', 'Stave joints only. The seam at the corner is never glued.', 'Stave joints only: what meets on the site stays without glue.'),
    ('profile_edges_before', 'Before the seam is cut, so that the seam cut cleans the tips.', 'Before every cut that is still to come, which then cleans the tips.'),
    ('cut_length', 'Free ends to size; leave the seam ends long.', 'Free ends to size; ends that are cut later stay long.'),
    ('finish_coat', 'Both faces and all edges alike, the seam faces too; keep finish out of the slots. Rags wet with oil go into a closed metal bin with water.', 'Both faces, all edges and every cut face alike; keep finish out of the slots. Rags wet with oil go into a closed metal bin with water.'),
    ('check_base', 'Flat and level, carried beside every seam.', 'Flat and level, and firm under the ends of every piece.')) AS n (code, was, note)
  WHERE s.code = n.code AND s.note = n.was AND s.source = 'demo';

  UPDATE labour_standard SET name = 'Profile the edges of each piece'
  WHERE code = 'profile_edges_before' AND name = 'Profile the edges before joining' AND source = 'demo';
END
$$;
-- +goose StatementEnd
