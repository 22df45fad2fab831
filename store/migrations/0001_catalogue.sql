-- What a shop knows. The code of a thing never changes; a thing no longer used is retired (retired_at), not
-- deleted, so that old offers can still name it. Retired rows are not loaded into the catalogue.
--
-- Lengths are millimetres, masses kilograms, forces newtons, temperatures degrees Celsius: the unit stands in
-- the column's name. Upper bounds in checks also keep out NaN and infinity.

-- +goose Up

-- ---------------------------------------------------------------------------------------------------------
-- Kinds of value
-- ---------------------------------------------------------------------------------------------------------

CREATE DOMAIN entity_code AS text COLLATE "C"
  CONSTRAINT entity_code_is_snake_case CHECK (VALUE ~ '^[a-z][a-z0-9]*(_[a-z0-9]+)*$' AND length(VALUE) <= 80);
COMMENT ON DOMAIN entity_code IS 'lower_snake_case, never changed; sorted by bytes, as the program sorts';

CREATE DOMAIN label AS text
  CONSTRAINT label_is_one_line CHECK (VALUE <> '' AND length(VALUE) <= 200 AND VALUE !~ '[[:cntrl:]]');
COMMENT ON DOMAIN label IS 'a name for people: one line, not empty';

CREATE DOMAIN source_id AS text COLLATE "C"
  CONSTRAINT source_id_is_short CHECK (length(VALUE) <= 40);
COMMENT ON DOMAIN source_id IS 'id of a publication in the program''s list of sources; demo marks invented data';

CREATE DOMAIN millimetres AS double precision
  CONSTRAINT millimetres_in_range CHECK (VALUE >= 0 AND VALUE <= 100000);
COMMENT ON DOMAIN millimetres IS 'a length; zero where the thing has no such measure';

CREATE DOMAIN minutes AS double precision
  CONSTRAINT minutes_in_range CHECK (VALUE >= 0 AND VALUE <= 100000);

COMMENT ON DOMAIN minutes IS 'minutes of work';

CREATE DOMAIN moisture_percent AS double precision
  CONSTRAINT moisture_percent_in_range CHECK (VALUE > 0 AND VALUE <= 30);
COMMENT ON DOMAIN moisture_percent IS 'moisture content of wood, percent of its oven-dry mass, up to fibre saturation';

-- ---------------------------------------------------------------------------------------------------------
-- Revision: every change of the catalogue raises it by one and is announced on the channel "catalogue"
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE catalogue_revision (
  only_row boolean PRIMARY KEY DEFAULT true CONSTRAINT catalogue_revision_has_one_row CHECK (only_row),
  revision bigint NOT NULL CONSTRAINT catalogue_revision_counts_up CHECK (revision > 0)
);
COMMENT ON TABLE catalogue_revision IS 'one row: the number of the catalogue''s present state';
INSERT INTO catalogue_revision (revision) VALUES (1);

CREATE TABLE catalogue_touch (
  transaction xid8 PRIMARY KEY
);
COMMENT ON TABLE catalogue_touch IS 'transactions that changed the catalogue and have not committed; each row lives until its commit';

-- The row of catalogue_revision is the one place where writers of the catalogue meet. A statement therefore
-- only leaves a mark of its own transaction; the deferred trigger on the mark raises the revision at commit,
-- once a transaction, so that the row is locked for the commit alone and not from the first statement on.
-- A writer that wants to know its revision before it commits says SET CONSTRAINTS catalogue_revision_rises
-- IMMEDIATE as its last statement but one, and then reads the row.

-- +goose StatementBegin
CREATE FUNCTION catalogue_mark() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO catalogue_touch (transaction) VALUES (pg_current_xact_id()) ON CONFLICT DO NOTHING;
  RETURN NULL;
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION catalogue_mark() IS 'statement trigger of every catalogue table';

-- +goose StatementBegin
CREATE FUNCTION catalogue_raise() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  raised bigint;
BEGIN
  UPDATE catalogue_revision SET revision = revision + 1 RETURNING revision INTO STRICT raised;
  DELETE FROM catalogue_touch WHERE transaction = NEW.transaction;
  PERFORM pg_notify('catalogue', raised::text);
  RETURN NULL;
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION catalogue_raise() IS 'raises the revision and announces it, once a transaction, at commit';

CREATE CONSTRAINT TRIGGER catalogue_revision_rises AFTER INSERT ON catalogue_touch
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_raise();

-- +goose StatementBegin
CREATE FUNCTION next_version() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.version := OLD.version + 1;
  RETURN NEW;
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION next_version() IS 'row trigger: counts the changes of a row, whoever makes them, for optimistic concurrency; a writer of a table that hangs on this one (properties, packs, what a step follows) updates this row too';

-- ---------------------------------------------------------------------------------------------------------
-- Species
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE species (
  code       entity_code PRIMARY KEY,
  name       label NOT NULL,
  botanical  text NOT NULL DEFAULT '' CONSTRAINT species_botanical_is_short CHECK (length(botanical) <= 200),
  wood_group text NOT NULL CONSTRAINT species_group_is_known CHECK (wood_group IN ('hardwood', 'softwood', 'imported')),
  version    bigint NOT NULL DEFAULT 1,
  retired_at timestamptz
);
COMMENT ON TABLE species IS 'woods';
COMMENT ON COLUMN species.wood_group IS 'imported: hardwoods from abroad, listed apart in the handbook';

CREATE TABLE species_property (
  species  entity_code NOT NULL REFERENCES species ON DELETE CASCADE,
  property text COLLATE "C" NOT NULL,
  value    numeric,
  source   source_id NOT NULL DEFAULT '',
  verified boolean NOT NULL DEFAULT false,
  note     text NOT NULL DEFAULT '' CONSTRAINT species_property_note_is_short CHECK (length(note) <= 500),
  PRIMARY KEY (species, property),
  CONSTRAINT species_property_value_in_range CHECK (CASE property
    WHEN 'tangential'            THEN value > 0 AND value < 0.02
    WHEN 'radial'                THEN value > 0 AND value < 0.02
    WHEN 'shrinkage_tangential'  THEN value > 0 AND value < 30
    WHEN 'shrinkage_radial'      THEN value > 0 AND value < 30
    WHEN 'shrinkage_volumetric'  THEN value > 0 AND value < 40
    WHEN 'fibre_saturation'      THEN value >= 15 AND value <= 40
    WHEN 'gravity_green'         THEN value > 0 AND value < 1.5
    WHEN 'gravity_12'            THEN value > 0 AND value < 1.5
    WHEN 'elasticity'            THEN value > 0 AND value < 50
    WHEN 'tension_across'        THEN value > 0 AND value < 50000
    WHEN 'ratio_tangential'      THEN value > 0 AND value < 1
    WHEN 'ratio_radial'          THEN value > 0 AND value < 1
    WHEN 'side_hardness'         THEN value > 0 AND value < 50000
    ELSE false END),
  CONSTRAINT species_property_names_its_source CHECK ((value IS NULL) = (source = '')),
  CONSTRAINT species_property_verified_is_known CHECK (value IS NOT NULL OR NOT verified)
);
COMMENT ON TABLE species_property IS 'published numbers of a species; a property that no source gives has no row, or a null value with a note';
COMMENT ON COLUMN species_property.value IS 'as printed. tangential, radial: change per percent of moisture (fraction); shrinkage: percent green to oven-dry; fibre_saturation: percent; gravity: relative to water; elasticity: GPa; tension_across: kPa; ratios: of E_L; side_hardness: N';
COMMENT ON COLUMN species_property.verified IS 'read in a copy of the source or confirmed against a second one; false: remembered';

-- ---------------------------------------------------------------------------------------------------------
-- Items: whatever is bought. One row here, one in the table of its kind
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE item (
  code       entity_code PRIMARY KEY,
  kind       text COLLATE "C" NOT NULL CONSTRAINT item_kind_is_known CHECK (kind IN (
               'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw',
               'lumber', 'panel', 'glue', 'finish', 'sundry')),
  name       label NOT NULL,
  unit       text COLLATE "C" NOT NULL CONSTRAINT item_unit_is_known CHECK (unit IN ('each', 'board_foot', 'litre', 'metre')),
  source     source_id NOT NULL,
  note       text NOT NULL DEFAULT '' CONSTRAINT item_note_is_short CHECK (length(note) <= 500),
  version    bigint NOT NULL DEFAULT 1,
  retired_at timestamptz,
  CONSTRAINT item_has_kind UNIQUE (code, kind),
  CONSTRAINT item_unit_fits_kind CHECK (CASE kind
    WHEN 'lumber' THEN unit = 'board_foot'
    WHEN 'glue'   THEN unit = 'litre'
    WHEN 'finish' THEN unit = 'litre'
    WHEN 'sundry' THEN unit IN ('each', 'litre', 'metre')
    ELSE unit = 'each' END)
);
COMMENT ON TABLE item IS 'fasteners and materials: what both have';

CREATE TABLE fastener (
  code                  entity_code PRIMARY KEY,
  kind                  text COLLATE "C" NOT NULL CONSTRAINT fastener_kind_is_known CHECK (kind IN (
                          'biscuit', 'loose_tenon', 'dowel', 'pocket_screw', 'draw_bolt', 'slotted_clip', 'slotted_screw')),
  width_mm              millimetres NOT NULL DEFAULT 0,
  length_mm             millimetres NOT NULL DEFAULT 0,
  thickness_mm          millimetres NOT NULL DEFAULT 0,
  thread_diameter_mm    millimetres NOT NULL DEFAULT 0,
  head_diameter_mm      millimetres NOT NULL DEFAULT 0,
  washer_diameter_mm    millimetres NOT NULL DEFAULT 0,
  bore_diameter_mm      millimetres NOT NULL DEFAULT 0,
  penetration_mm        millimetres NOT NULL DEFAULT 0,
  bolt_diameter_mm      millimetres NOT NULL DEFAULT 0,
  recess_diameter_mm    millimetres NOT NULL DEFAULT 0,
  recess_depth_mm       millimetres NOT NULL DEFAULT 0,
  recess_distance_mm    millimetres NOT NULL DEFAULT 0,
  bearing_diameter_mm   millimetres NOT NULL DEFAULT 0,
  least_thickness_mm    millimetres NOT NULL DEFAULT 0,
  greatest_thickness_mm millimetres NOT NULL DEFAULT 0,
  working_load_n        double precision NOT NULL DEFAULT 0 CONSTRAINT fastener_working_load_in_range CHECK (working_load_n >= 0 AND working_load_n <= 1000000),
  may_mix_with_bolt     boolean NOT NULL DEFAULT false,
  CONSTRAINT fastener_is_item FOREIGN KEY (code, kind) REFERENCES item (code, kind) ON DELETE CASCADE,
  CONSTRAINT fastener_thickness_in_order CHECK (greatest_thickness_mm = 0 OR greatest_thickness_mm > least_thickness_mm),
  CONSTRAINT fastener_alignment_has_measures CHECK (kind NOT IN ('biscuit', 'loose_tenon', 'dowel')
    OR (width_mm > 0 AND length_mm > 0 AND thickness_mm > 0 AND least_thickness_mm > thickness_mm)),
  CONSTRAINT fastener_screw_has_measures CHECK (kind NOT IN ('pocket_screw', 'slotted_screw')
    OR (length_mm > 0 AND thread_diameter_mm > 0 AND head_diameter_mm > thread_diameter_mm
        AND penetration_mm > 0 AND penetration_mm < length_mm)),
  CONSTRAINT fastener_pocket_takes_head CHECK (kind <> 'pocket_screw'
    OR (bore_diameter_mm >= head_diameter_mm AND least_thickness_mm > 0)),
  CONSTRAINT fastener_washer_bears CHECK (washer_diameter_mm = 0 OR head_diameter_mm >= washer_diameter_mm),
  CONSTRAINT fastener_bolt_has_measures CHECK (kind <> 'draw_bolt'
    OR (length_mm > 0 AND bolt_diameter_mm > 0 AND bearing_diameter_mm > bolt_diameter_mm
        AND recess_diameter_mm >= bearing_diameter_mm AND recess_depth_mm > 0
        AND recess_distance_mm > recess_diameter_mm / 2 AND length_mm >= 2 * recess_distance_mm
        AND least_thickness_mm > recess_depth_mm AND working_load_n > 0)),
  CONSTRAINT fastener_only_screws_mix CHECK (kind = 'pocket_screw' OR NOT may_mix_with_bolt)
);
COMMENT ON TABLE fastener IS 'hardware; a measure of zero means that the kind has none';
COMMENT ON COLUMN fastener.width_mm IS 'alignment: along the seam';
COMMENT ON COLUMN fastener.length_mm IS 'alignment: across the seam; screws and bolts: whole length';
COMMENT ON COLUMN fastener.head_diameter_mm IS 'what bears: the head, or its washer when that is larger and fits the pocket';
COMMENT ON COLUMN fastener.recess_distance_mm IS 'from the seam to the recess centre';
COMMENT ON COLUMN fastener.working_load_n IS 'allowable pull of one, from the maker''s data';

CREATE TABLE lumber (
  code                 entity_code PRIMARY KEY,
  kind                 text COLLATE "C" NOT NULL DEFAULT 'lumber' CONSTRAINT lumber_kind_is_lumber CHECK (kind = 'lumber'),
  species              entity_code NOT NULL REFERENCES species,
  rough_thickness_mm   millimetres NOT NULL,
  surfaced_thickness_mm millimetres NOT NULL,
  grade                label NOT NULL,
  clear_twelfths       smallint NOT NULL CONSTRAINT lumber_clear_in_range CHECK (clear_twelfths BETWEEN 1 AND 12),
  stock_lengths_mm     double precision[] NOT NULL,
  working_width_mm     millimetres NOT NULL CONSTRAINT lumber_working_width_is_positive CHECK (working_width_mm > 0),
  CONSTRAINT lumber_is_item FOREIGN KEY (code, kind) REFERENCES item (code, kind) ON DELETE CASCADE,
  CONSTRAINT lumber_surfacing_takes_wood CHECK (surfaced_thickness_mm > 0 AND surfaced_thickness_mm < rough_thickness_mm),
  CONSTRAINT lumber_has_stock_lengths CHECK (cardinality(stock_lengths_mm) BETWEEN 1 AND 30
    AND array_ndims(stock_lengths_mm) = 1 AND array_position(stock_lengths_mm, NULL) IS NULL
    AND 0 < ALL (stock_lengths_mm) AND 30000 >= ALL (stock_lengths_mm))
);
CREATE INDEX lumber_by_species ON lumber (species);
COMMENT ON TABLE lumber IS 'rough boards of one species, thickness and grade, sold by the board foot';
COMMENT ON COLUMN lumber.clear_twelfths IS 'least clear yield by the grade''s rule, in twelfths of the surface (cutting units): FAS 10, No. 1 Common 8';
COMMENT ON COLUMN lumber.working_width_mm IS 'width of a board that can be counted on';

CREATE TABLE panel (
  code         entity_code PRIMARY KEY,
  kind         text COLLATE "C" NOT NULL DEFAULT 'panel' CONSTRAINT panel_kind_is_panel CHECK (kind = 'panel'),
  species      entity_code NOT NULL REFERENCES species,
  thickness_mm millimetres NOT NULL CONSTRAINT panel_thickness_is_positive CHECK (thickness_mm > 0),
  width_mm     millimetres NOT NULL CONSTRAINT panel_width_is_positive CHECK (width_mm > 0),
  length_mm    millimetres NOT NULL CONSTRAINT panel_length_is_positive CHECK (length_mm > 0),
  CONSTRAINT panel_is_item FOREIGN KEY (code, kind) REFERENCES item (code, kind) ON DELETE CASCADE
);
CREATE INDEX panel_by_species ON panel (species);
COMMENT ON TABLE panel IS 'ready-made edge-glued slabs, sold each';

CREATE TABLE glue (
  code        entity_code PRIMARY KEY,
  kind        text COLLATE "C" NOT NULL DEFAULT 'glue' CONSTRAINT glue_kind_is_glue CHECK (kind = 'glue'),
  spread_m2   double precision NOT NULL CONSTRAINT glue_spread_in_range CHECK (spread_m2 > 0 AND spread_m2 <= 100),
  clamp_hours double precision NOT NULL CONSTRAINT glue_clamp_hours_in_range CHECK (clamp_hours >= 0 AND clamp_hours <= 168),
  CONSTRAINT glue_is_item FOREIGN KEY (code, kind) REFERENCES item (code, kind) ON DELETE CASCADE
);
COMMENT ON TABLE glue IS 'glues for stave joints, sold by the litre';
COMMENT ON COLUMN glue.spread_m2 IS 'glue-line area that one litre covers';

CREATE TABLE finish (
  code        entity_code PRIMARY KEY,
  kind        text COLLATE "C" NOT NULL DEFAULT 'finish' CONSTRAINT finish_kind_is_finish CHECK (kind = 'finish'),
  system      entity_code NOT NULL,
  coverage_m2 double precision NOT NULL CONSTRAINT finish_coverage_in_range CHECK (coverage_m2 > 0 AND coverage_m2 <= 200),
  dry_hours   double precision NOT NULL CONSTRAINT finish_dry_hours_in_range CHECK (dry_hours >= 0 AND dry_hours <= 720),
  coats       integer NOT NULL CONSTRAINT finish_coats_in_range CHECK (coats BETWEEN 1 AND 20),
  self_heat   boolean NOT NULL,
  CONSTRAINT finish_is_item FOREIGN KEY (code, kind) REFERENCES item (code, kind) ON DELETE CASCADE
);
COMMENT ON TABLE finish IS 'finishes, sold by the litre';
COMMENT ON COLUMN finish.system IS 'what a request asks for';
COMMENT ON COLUMN finish.coverage_m2 IS 'one coat on one litre';
COMMENT ON COLUMN finish.self_heat IS 'oily rags can catch fire by themselves';

CREATE TABLE sundry (
  code          entity_code PRIMARY KEY,
  kind          text COLLATE "C" NOT NULL DEFAULT 'sundry' CONSTRAINT sundry_kind_is_sundry CHECK (kind = 'sundry'),
  driver        text COLLATE "C" NOT NULL CONSTRAINT sundry_driver_is_known CHECK (driver IN (
                  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
                  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms')),
  used          double precision NOT NULL CONSTRAINT sundry_use_in_range CHECK (used > 0 AND used <= 10000),
  finish_system entity_code,
  CONSTRAINT sundry_is_item FOREIGN KEY (code, kind) REFERENCES item (code, kind) ON DELETE CASCADE
);
COMMENT ON TABLE sundry IS 'small things used in proportion to a driver';
COMMENT ON COLUMN sundry.used IS 'units used per driver unit';
COMMENT ON COLUMN sundry.finish_system IS 'only with this finish system; null: always';

-- ---------------------------------------------------------------------------------------------------------
-- Packs and prices
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE supplier (
  code    entity_code PRIMARY KEY,
  name    label NOT NULL,
  version bigint NOT NULL DEFAULT 1
);
COMMENT ON TABLE supplier IS 'who sells';

CREATE TABLE item_pack (
  item entity_code NOT NULL REFERENCES item ON DELETE CASCADE,
  size numeric(12, 4) NOT NULL CONSTRAINT item_pack_size_in_range CHECK (size > 0 AND size <= 1000000),
  PRIMARY KEY (item, size)
);
COMMENT ON TABLE item_pack IS 'containers in which an item is sold';
COMMENT ON COLUMN item_pack.size IS 'content in the item''s unit';

CREATE TABLE price (
  item       entity_code NOT NULL,
  size       numeric(12, 4) NOT NULL,
  supplier   entity_code NOT NULL REFERENCES supplier,
  valid_from date NOT NULL CONSTRAINT price_valid_from_in_range CHECK (valid_from BETWEEN '2000-01-01' AND '2199-12-31'),
  currency   text COLLATE "C" NOT NULL CONSTRAINT price_currency_is_code CHECK (currency ~ '^[A-Z]{3}$'),
  amount     numeric(14, 4) NOT NULL CONSTRAINT price_amount_in_range CHECK (amount > 0 AND amount <= 100000000),
  PRIMARY KEY (item, size, supplier, valid_from),
  CONSTRAINT price_is_of_pack FOREIGN KEY (item, size) REFERENCES item_pack (item, size) ON DELETE CASCADE
);
COMMENT ON TABLE price IS 'price history: what one pack costs from a day on, until the supplier''s next row';
COMMENT ON COLUMN price.amount IS 'for one whole pack';

-- ---------------------------------------------------------------------------------------------------------
-- Labour
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE labour_role (
  code       entity_code PRIMARY KEY,
  name       label NOT NULL,
  rate       numeric(14, 4) NOT NULL CONSTRAINT labour_role_rate_in_range CHECK (rate >= 0 AND rate <= 100000),
  source     source_id NOT NULL,
  version    bigint NOT NULL DEFAULT 1,
  retired_at timestamptz
);
COMMENT ON TABLE labour_role IS 'who does a step';
COMMENT ON COLUMN labour_role.rate IS 'one hour of one person, in the currency of the settings';

CREATE TABLE labour_standard (
  code          entity_code PRIMARY KEY,
  name          label NOT NULL,
  place         integer NOT NULL CONSTRAINT labour_standard_place_in_range CHECK (place BETWEEN 1 AND 100000),
  role          entity_code NOT NULL REFERENCES labour_role,
  crew          integer NOT NULL CONSTRAINT labour_standard_crew_in_range CHECK (crew BETWEEN 1 AND 20),
  condition     text COLLATE "C" NOT NULL CONSTRAINT labour_standard_condition_is_known CHECK (condition IN (
                  'always', 'edge_glued', 'panel', 'corner', 'miter', 'butt', 'masons_miter', 'site_template', 'scribe',
                  'profile', 'profile_before', 'profile_after', 'carved_corner', 'coped_corner',
                  'biscuit', 'loose_tenon', 'pocket_screw', 'draw_bolt', 'cutout', 'finish')),
  driver        text COLLATE "C" NOT NULL CONSTRAINT labour_standard_driver_is_known CHECK (driver IN (
                  'top', 'piece', 'corner', 'seam_metre', 'stave', 'stave_metre', 'glue_line_metre', 'square_metre', 'edge_metre',
                  'alignment_part', 'pull_part', 'fixing', 'cutout', 'coat', 'coat_square_metre', 'hundred_kilograms')),
  setup_low     minutes NOT NULL,
  setup_likely  minutes NOT NULL,
  setup_high    minutes NOT NULL,
  each_low      minutes NOT NULL,
  each_likely   minutes NOT NULL,
  each_high     minutes NOT NULL,
  wait_hours    double precision NOT NULL DEFAULT 0 CONSTRAINT labour_standard_wait_in_range CHECK (wait_hours >= 0 AND wait_hours <= 2000),
  by_hardness   boolean NOT NULL DEFAULT false,
  by_thickness  boolean NOT NULL DEFAULT false,
  by_tool       boolean NOT NULL DEFAULT false,
  by_experience boolean NOT NULL DEFAULT false,
  note          text NOT NULL DEFAULT '' CONSTRAINT labour_standard_note_is_short CHECK (length(note) <= 500),
  source        source_id NOT NULL,
  version       bigint NOT NULL DEFAULT 1,
  retired_at    timestamptz,
  CONSTRAINT labour_standard_setup_in_order CHECK (setup_low <= setup_likely AND setup_likely <= setup_high),
  CONSTRAINT labour_standard_each_in_order CHECK (each_low <= each_likely AND each_likely <= each_high),
  CONSTRAINT labour_standard_takes_time CHECK (setup_high + each_high > 0)
);
CREATE INDEX labour_standard_by_role ON labour_standard (role);
COMMENT ON TABLE labour_standard IS 'how long one kind of step takes in this shop; minutes once (setup) and per driver unit (each)';
COMMENT ON COLUMN labour_standard.place IS 'place in the usual order of work';
COMMENT ON COLUMN labour_standard.condition IS 'which tops need the step';
COMMENT ON COLUMN labour_standard.wait_hours IS 'clock hours afterwards';

CREATE TABLE labour_standard_after (
  step    entity_code NOT NULL REFERENCES labour_standard ON DELETE CASCADE,
  follows entity_code NOT NULL REFERENCES labour_standard,
  PRIMARY KEY (step, follows),
  CONSTRAINT labour_standard_not_after_itself CHECK (step <> follows)
);
CREATE INDEX labour_standard_after_by_follows ON labour_standard_after (follows);
COMMENT ON TABLE labour_standard_after IS 'which steps a step follows';

-- ---------------------------------------------------------------------------------------------------------
-- Climate profiles and settings
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE climate_profile (
  code                entity_code PRIMARY KEY,
  name                label NOT NULL,
  dry_humidity        double precision CONSTRAINT climate_dry_humidity_in_range CHECK (dry_humidity > 0 AND dry_humidity < 100),
  dry_temperature_c   double precision CONSTRAINT climate_dry_temperature_in_range CHECK (dry_temperature_c BETWEEN -40 AND 60),
  dry_moisture        moisture_percent,
  humid_humidity      double precision CONSTRAINT climate_humid_humidity_in_range CHECK (humid_humidity > 0 AND humid_humidity < 100),
  humid_temperature_c double precision CONSTRAINT climate_humid_temperature_in_range CHECK (humid_temperature_c BETWEEN -40 AND 60),
  humid_moisture      moisture_percent,
  source              source_id NOT NULL,
  note                text NOT NULL DEFAULT '' CONSTRAINT climate_note_is_short CHECK (length(note) <= 500),
  version             bigint NOT NULL DEFAULT 1,
  retired_at          timestamptz,
  CONSTRAINT climate_dry_is_air_or_moisture CHECK (
    (dry_humidity IS NULL) = (dry_temperature_c IS NULL) AND (dry_humidity IS NULL) <> (dry_moisture IS NULL)),
  CONSTRAINT climate_humid_is_air_or_moisture CHECK (
    (humid_humidity IS NULL) = (humid_temperature_c IS NULL) AND (humid_humidity IS NULL) <> (humid_moisture IS NULL)),
  CONSTRAINT climate_moisture_in_order CHECK (dry_moisture <= humid_moisture)
);
COMMENT ON TABLE climate_profile IS 'named pairs of seasons; each is a state of the air (relative humidity in percent and temperature) or a moisture content';

CREATE TABLE setting (
  key     entity_code PRIMARY KEY,
  value   text NOT NULL CONSTRAINT setting_value_is_short CHECK (length(value) <= 200),
  about   text NOT NULL,
  source  source_id NOT NULL,
  version bigint NOT NULL DEFAULT 1
);
COMMENT ON TABLE setting IS 'what a shop can change; the program knows kinds, bounds and defaults and adds keys that are missing';

CREATE TABLE seeding (
  only_row    boolean PRIMARY KEY DEFAULT true CONSTRAINT seeding_has_one_row CHECK (only_row),
  fingerprint text NOT NULL,
  seeded_at   timestamptz NOT NULL
);
COMMENT ON TABLE seeding IS 'one row once the demo catalogue has been put in; then it never is again';

-- ---------------------------------------------------------------------------------------------------------
-- Triggers of all catalogue tables
-- ---------------------------------------------------------------------------------------------------------

CREATE TRIGGER species_marks               AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON species               FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER species_property_marks      AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON species_property      FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER item_marks                  AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON item                  FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER fastener_marks              AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON fastener              FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER lumber_marks                AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON lumber                FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER panel_marks                 AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON panel                 FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER glue_marks                  AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON glue                  FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER finish_marks                AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON finish                FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER sundry_marks                AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON sundry                FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER supplier_marks              AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON supplier              FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER item_pack_marks             AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON item_pack             FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER price_marks                 AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON price                 FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER labour_role_marks           AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON labour_role           FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER labour_standard_marks       AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON labour_standard       FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER labour_standard_after_marks AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON labour_standard_after FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER climate_profile_marks       AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON climate_profile       FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER setting_marks               AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON setting               FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();

CREATE TRIGGER species_counts         BEFORE UPDATE ON species         FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER item_counts            BEFORE UPDATE ON item            FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER supplier_counts        BEFORE UPDATE ON supplier        FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER labour_role_counts     BEFORE UPDATE ON labour_role     FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER labour_standard_counts BEFORE UPDATE ON labour_standard FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER climate_profile_counts BEFORE UPDATE ON climate_profile FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER setting_counts         BEFORE UPDATE ON setting         FOR EACH ROW EXECUTE FUNCTION next_version();
