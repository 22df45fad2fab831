-- Threaded inserts: the thread of their machine screw, and the bore in the top that holds all of the insert.

-- +goose Up

ALTER TABLE fastener DROP CONSTRAINT fastener_kind_is_known;
ALTER TABLE fastener ADD CONSTRAINT fastener_kind_is_known CHECK (kind IN (
  'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw', 'figure_eight', 'button', 'threaded_insert', 'support_bracket', 'support_leg'));
ALTER TABLE fastener ADD CONSTRAINT fastener_insert_has_measures CHECK (kind <> 'threaded_insert' OR
  (length_mm > 0 AND thread_diameter_mm > 0 AND head_diameter_mm > thread_diameter_mm AND bore_diameter_mm > thread_diameter_mm
    AND penetration_mm >= length_mm AND least_thickness_mm > penetration_mm));
