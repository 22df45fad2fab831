-- Threaded inserts with machine screws, which hold a top to its base.

-- +goose Up

ALTER TABLE item DROP CONSTRAINT item_kind_is_known;
ALTER TABLE item ADD CONSTRAINT item_kind_is_known CHECK (kind IN (
  'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw', 'figure_eight', 'button', 'threaded_insert', 'support_bracket', 'support_leg',
  'lumber', 'panel', 'glue', 'finish', 'sundry'));
