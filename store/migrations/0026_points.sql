-- Points for and against a joint grow with what they measure: settings that nobody has changed get the new figures, and all of these say
-- what they count now. A shop's own figures stay.

-- +goose Up

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  UPDATE setting s SET value = n.value
  FROM (VALUES ('points_swing', '-6', '-20'), ('points_side_grain', '6', '4'), ('points_bolts', '6', '4'), ('points_apart', '6', '12'),
    ('points_look', '10', '20')) AS n (key, was, value)
  WHERE s.key = n.key AND s.value = n.was AND s.version = 1;

  UPDATE setting s SET about = n.about
  FROM (VALUES
    ('points_edge_mitred', 'moulded edges of 1/4 in meet at the corner'),
    ('points_edge_notch', 'moulded edge of 1/4 in leaves a notch; remedy needed'),
    ('points_movement_slip', 'butt or mason''s miter: slip of 1/4 in'),
    ('points_movement_open', 'a seam that cannot swing opens so far that it is plainly seen; twice as far counts twice'),
    ('points_swing', 'legs free to swing: their walls need the widest gap that can be covered'),
    ('points_side_grain', 'pull screws in side grain hold twice what one leg, carried by itself, asks; half of it counts as much against'),
    ('points_bolts', 'draw bolts hold twice what one leg, carried by itself, asks; half of it counts as much against'),
    ('points_unequal', 'miter of depths that differ by a fifth, square edges'),
    ('points_cut_angle', 'two full-width cuts 45° off square; one counts half'),
    ('points_cut_long', 'each metre of seam'),
    ('points_apart', 'draw bolts, where the corner comes apart and together on site; wood screws count as much against')) AS n (key, about)
  WHERE s.key = n.key;
END
$$;
-- +goose StatementEnd
