-- Figure-eight clips and buttons: the length that says how far they let the wood go.

-- +goose Up

ALTER TABLE fastener DROP CONSTRAINT fastener_kind_is_known;
ALTER TABLE fastener ADD CONSTRAINT fastener_kind_is_known CHECK (kind IN (
  'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw', 'figure_eight', 'button', 'support_bracket', 'support_leg'));
ALTER TABLE fastener ADD CONSTRAINT fastener_let_in_has_length CHECK (kind NOT IN ('figure_eight', 'button') OR length_mm > 0);
