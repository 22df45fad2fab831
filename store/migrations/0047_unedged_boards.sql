-- Unedged boards are measured, and paid, wider than they can be used.

-- +goose Up

ALTER TABLE lumber ADD COLUMN measured_width_mm millimetres NOT NULL DEFAULT 0
  CONSTRAINT lumber_measured_width_holds_working CHECK (measured_width_mm = 0 OR measured_width_mm >= working_width_mm);
COMMENT ON COLUMN lumber.measured_width_mm IS 'mean width by which a board is sold; 0: as wide as it is used, its edges are straight';
