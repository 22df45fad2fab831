-- Notes of the demo's steps are read on paper, where there is no answer but sheets: where a shop has not changed them they say so.

-- +goose Up

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM labour_standard) THEN
    RETURN; -- the seed comes after the migrations, and an update of nothing would raise the revision
  END IF;

  UPDATE labour_standard s SET note = n.note
  FROM (VALUES
    ('trial_fit', 'Held flush at the point named in the answer.', 'Held flush at the point that the seam''s sheet names.'),
    ('deliver', 'Carry each slab by itself, on edge; the answer says how many people.', 'Carry each slab by itself, on edge; its sheet says how many people.'),
    ('set_wall_gap', 'As wide as the answer says; a flexible joint or a cover strip, nothing rigid.', 'As wide as the piece''s sheet says; a flexible joint or a cover strip, nothing rigid.')) AS n (code, was, note)
  WHERE s.code = n.code AND s.note = n.was AND s.source = 'demo';
END
$$;
-- +goose StatementEnd
