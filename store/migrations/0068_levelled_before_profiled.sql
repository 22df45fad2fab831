-- The edges of a joined top are profiled, and an applied moulding is coped, once its faces are level at the seam: the bit's bearing and
-- the moulding follow the face (common practice). What a shop has changed stays.

-- +goose Up

-- +goose StatementBegin
DO $$
DECLARE
  follower text;
BEGIN
  FOREACH follower IN ARRAY ARRAY['profile_edges_after', 'cope_moulding'] LOOP
    IF EXISTS (SELECT FROM labour_standard WHERE code = follower AND source = 'demo')
      AND EXISTS (SELECT FROM labour_standard_after WHERE step = 'level_seam' AND follows = 'trial_assembly')
      AND ARRAY(SELECT follows::text FROM labour_standard_after WHERE step = follower) = ARRAY['trial_assembly'] THEN
      UPDATE labour_standard_after SET follows = 'level_seam' WHERE step = follower;
    END IF;
  END LOOP;
END
$$;
-- +goose StatementEnd
