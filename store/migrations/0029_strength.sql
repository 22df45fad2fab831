-- Overhangs and spans are judged by two more published numbers of a wood: its modulus of rupture, and its stiffness in rolling shear
-- (Wood Handbook, FPL-GTR-190, Tables 5-3, 5-5 and 5-1). The shipped woods get theirs in databases that were seeded before, as far as
-- their stiffness still is the handbook's.

-- +goose Up

ALTER TABLE species_property DROP CONSTRAINT species_property_value_in_range,
  ADD CONSTRAINT species_property_value_in_range CHECK (CASE property
    WHEN 'tangential'            THEN value > 0 AND value < 0.02
    WHEN 'radial'                THEN value > 0 AND value < 0.02
    WHEN 'shrinkage_tangential'  THEN value > 0 AND value < 30
    WHEN 'shrinkage_radial'      THEN value > 0 AND value < 30
    WHEN 'shrinkage_volumetric'  THEN value > 0 AND value < 40
    WHEN 'fibre_saturation'      THEN value >= 15 AND value <= 40
    WHEN 'gravity_green'         THEN value > 0 AND value < 1.5
    WHEN 'gravity_12'            THEN value > 0 AND value < 1.5
    WHEN 'elasticity'            THEN value > 0 AND value < 50
    WHEN 'bending_strength'      THEN value > 0 AND value < 500000
    WHEN 'tension_across'        THEN value > 0 AND value < 50000
    WHEN 'ratio_tangential'      THEN value > 0 AND value < 1
    WHEN 'ratio_radial'          THEN value > 0 AND value < 1
    WHEN 'ratio_rolling'         THEN value > 0 AND value < 1
    WHEN 'side_hardness'         THEN value > 0 AND value < 50000
    ELSE false END);
COMMENT ON COLUMN species_property.value IS 'as printed. tangential, radial: change per percent of moisture (fraction); shrinkage: percent green to oven-dry; fibre_saturation: percent; gravity: relative to water; elasticity: GPa; bending_strength, tension_across: kPa; ratios: of E_L; side_hardness: N';

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  CREATE TEMPORARY TABLE added ON COMMIT DROP AS
  SELECT n.species::entity_code AS species, n.property, n.value, n.source, n.verified
  FROM (VALUES
      ('alder_red', 'bending_strength', 68000, 'WH-5-3', false),
      ('ash_black', 'bending_strength', 87000, 'WH-5-3', false),
      ('ash_white', 'bending_strength', 103000, 'WH-5-3', true),
      ('basswood_american', 'bending_strength', 60000, 'WH-5-3', false),
      ('beech_american', 'bending_strength', 103000, 'WH-5-3', true),
      ('birch_paper', 'bending_strength', 85000, 'WH-5-3', true),
      ('birch_sweet', 'bending_strength', 117000, 'WH-5-3', false),
      ('birch_yellow', 'bending_strength', 114000, 'WH-5-3', true),
      ('birch_yellow', 'ratio_rolling', 0.017, 'WH-5-1', false),
      ('butternut', 'bending_strength', 56000, 'WH-5-3', false),
      ('cedar_western_red', 'bending_strength', 52000, 'WH-5-3', false),
      ('cedar_western_red', 'ratio_rolling', 0.005, 'WH-5-1', false),
      ('cherry_black', 'bending_strength', 85000, 'WH-5-3', true),
      ('douglas_fir', 'bending_strength', 85000, 'WH-5-3', true),
      ('douglas_fir', 'ratio_rolling', 0.007, 'WH-5-1', true),
      ('elm_american', 'bending_strength', 81000, 'WH-5-3', true),
      ('elm_slippery', 'bending_strength', 90000, 'WH-5-3', false),
      ('hackberry', 'bending_strength', 76000, 'WH-5-3', false),
      ('hickory', 'bending_strength', 139000, 'WH-5-3', false),
      ('locust_black', 'bending_strength', 134000, 'WH-5-3', false),
      ('mahogany', 'bending_strength', 79000, 'WH-5-5', false),
      ('mahogany', 'ratio_rolling', 0.028, 'WH-5-1', false),
      ('mahogany_african', 'bending_strength', 74000, 'WH-5-5', false),
      ('mahogany_african', 'ratio_rolling', 0.021, 'WH-5-1', false),
      ('maple_bigleaf', 'bending_strength', 74000, 'WH-5-3', false),
      ('maple_red', 'bending_strength', 92000, 'WH-5-3', false),
      ('maple_silver', 'bending_strength', 61000, 'WH-5-3', true),
      ('maple_sugar', 'bending_strength', 109000, 'WH-5-3', true),
      ('oak_red', 'bending_strength', 99000, 'WH-5-3', true),
      ('oak_white', 'bending_strength', 105000, 'WH-5-3', true),
      ('pine_eastern_white', 'bending_strength', 59000, 'WH-5-3', false),
      ('pine_ponderosa', 'bending_strength', 65000, 'WH-5-3', true),
      ('pine_ponderosa', 'ratio_rolling', 0.017, 'WH-5-1', false),
      ('poplar_yellow', 'bending_strength', 70000, 'WH-5-3', false),
      ('poplar_yellow', 'ratio_rolling', 0.011, 'WH-5-1', false),
      ('sapele', 'bending_strength', 105000, 'WH-5-5', false),
      ('sweetgum', 'bending_strength', 86000, 'WH-5-3', false),
      ('sweetgum', 'ratio_rolling', 0.021, 'WH-5-1', false),
      ('sycamore_american', 'bending_strength', 69000, 'WH-5-3', false),
      ('teak', 'bending_strength', 101000, 'WH-5-5', true),
      ('walnut_black', 'bending_strength', 101000, 'WH-5-3', true),
      ('walnut_black', 'ratio_rolling', 0.021, 'WH-5-1', false)) AS n (species, property, value, source, verified)
  WHERE EXISTS (SELECT FROM species_property p WHERE p.species = n.species AND p.property = 'elasticity' AND p.source IN ('WH-5-3', 'WH-5-5'))
    AND NOT EXISTS (SELECT FROM species_property p WHERE p.species = n.species AND p.property = n.property);

  IF NOT EXISTS (SELECT FROM added) THEN
    RETURN;
  END IF;

  INSERT INTO species_property (species, property, value, source, verified, note)
  SELECT species, property, value, source, verified, CASE WHEN verified THEN '' ELSE 'remembered, not checked against the printed table' END
  FROM added;

  UPDATE species SET code = code WHERE code IN (SELECT species FROM added); -- so that its version counts the change
END
$$;
-- +goose StatementEnd
