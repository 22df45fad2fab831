-- The whole schema, read back from a migrated database: what migrations/*.sql amount to.
-- Written by UPDATE_GOLDEN=1 go test ./store; do not edit.

CREATE DOMAIN entity_code AS text COLLATE "C"
  CONSTRAINT entity_code_is_snake_case CHECK (((VALUE ~ '^[a-z][a-z0-9]*(_[a-z0-9]+)*$'::text) AND (length(VALUE) <= 80)));
COMMENT ON DOMAIN entity_code IS 'lower_snake_case, never changed; sorted by bytes, as the program sorts';
CREATE DOMAIN label AS text
  CONSTRAINT label_is_one_line CHECK (((VALUE <> ''::text) AND (length(VALUE) <= 200) AND (VALUE !~ '[[:cntrl:]]'::text)));
COMMENT ON DOMAIN label IS 'a name for people: one line, not empty';
CREATE DOMAIN millimetres AS double precision
  CONSTRAINT millimetres_in_range CHECK (((VALUE >= (0)::double precision) AND (VALUE <= (100000)::double precision)));
COMMENT ON DOMAIN millimetres IS 'a length; zero where the thing has no such measure';
CREATE DOMAIN minutes AS double precision
  CONSTRAINT minutes_in_range CHECK (((VALUE >= (0)::double precision) AND (VALUE <= (100000)::double precision)));
COMMENT ON DOMAIN minutes IS 'minutes of work';
CREATE DOMAIN moisture_percent AS double precision
  CONSTRAINT moisture_percent_in_range CHECK (((VALUE > (0)::double precision) AND (VALUE <= (30)::double precision)));
COMMENT ON DOMAIN moisture_percent IS 'moisture content of wood, percent of its oven-dry mass, up to fibre saturation';
CREATE DOMAIN price_limit AS numeric(8,3)
  CONSTRAINT price_limit_in_range CHECK (((VALUE >= (0)::numeric) AND (VALUE <= (10000)::numeric)));
COMMENT ON DOMAIN price_limit IS 'hundredths';
CREATE DOMAIN source_id AS text COLLATE "C"
  CONSTRAINT source_id_is_short CHECK ((length(VALUE) <= 40));
COMMENT ON DOMAIN source_id IS 'id of a publication in the program''s list of sources; demo marks invented data';


CREATE TABLE access_key (
  id text NOT NULL,
  kind text NOT NULL,
  name label NOT NULL,
  scopes text[] NOT NULL,
  origins text[] NOT NULL,
  hash bytea NOT NULL,
  created_at timestamp with time zone NOT NULL,
  created_by text NOT NULL,
  expires_at timestamp with time zone,
  revoked_at timestamp with time zone,
  last_used_at timestamp with time zone,
  successor text,
  test boolean NOT NULL DEFAULT false,
  CONSTRAINT access_key_hash_key UNIQUE (hash),
  CONSTRAINT access_key_pkey PRIMARY KEY (id),
  CONSTRAINT access_key_successor_fkey FOREIGN KEY (successor) REFERENCES access_key(id),
  CONSTRAINT access_key_author_is_short CHECK (((created_by <> ''::text) AND (length(created_by) <= 200))),
  CONSTRAINT access_key_fits_its_kind CHECK (
CASE kind
    WHEN 'publishable'::text THEN ((scopes = '{}'::text[]) AND (origins <> '{}'::text[]))
    ELSE ((scopes <> '{}'::text[]) AND (origins = '{}'::text[]))
END),
  CONSTRAINT access_key_hash_is_sha256 CHECK ((length(hash) = 32)),
  CONSTRAINT access_key_id_is_short CHECK ((id ~ '^[a-z0-9]{8,32}$'::text)),
  CONSTRAINT access_key_kind_is_known CHECK ((kind = ANY (ARRAY['secret'::text, 'publishable'::text]))),
  CONSTRAINT access_key_name_is_short CHECK ((length((name)::text) <= 60))
);
COMMENT ON TABLE access_key IS 'who may call. The key itself is not here: only its SHA-256, which is enough for 256 random bits';
COMMENT ON COLUMN access_key.id IS 'the part of the key that may be shown';
COMMENT ON COLUMN access_key.origins IS 'of a publishable key: the pages that may use it, such as https://shop.example';
COMMENT ON COLUMN access_key.successor IS 'the key that took over when this one was rotated';
COMMENT ON COLUMN access_key.test IS 'what it writes is answered and taken back';

CREATE TABLE access_refusal (
  minute timestamp with time zone NOT NULL,
  reason text NOT NULL,
  route text NOT NULL,
  key text NOT NULL,
  address text NOT NULL,
  count bigint NOT NULL,
  CONSTRAINT access_refusal_pkey PRIMARY KEY (minute, reason, route, key, address),
  CONSTRAINT access_refusal_address_is_short CHECK ((length(address) <= 64)),
  CONSTRAINT access_refusal_counts CHECK ((count > 0)),
  CONSTRAINT access_refusal_key_is_short CHECK ((length(key) <= 32)),
  CONSTRAINT access_refusal_reason_is_word CHECK ((reason ~ '^[a-z_]{1,40}$'::text)),
  CONSTRAINT access_refusal_route_is_short CHECK ((length(route) <= 200))
);
COMMENT ON TABLE access_refusal IS 'calls that were refused, counted by the minute; kept for 90 days';
COMMENT ON COLUMN access_refusal.key IS 'id of the key that came with it; empty: none, or none that exists';

CREATE TABLE access_state (
  one boolean NOT NULL DEFAULT true,
  version bigint NOT NULL,
  CONSTRAINT access_state_pkey PRIMARY KEY (one),
  CONSTRAINT access_state_is_one CHECK (one)
);
COMMENT ON TABLE access_state IS 'one row; the version rises with every change of the keys that callers can feel';

CREATE TABLE audit_entry (
  number bigint NOT NULL,
  at timestamp with time zone NOT NULL,
  actor text NOT NULL,
  entity text NOT NULL,
  code text NOT NULL,
  action text NOT NULL,
  before json,
  after json,
  revision bigint NOT NULL,
  CONSTRAINT audit_entry_pkey PRIMARY KEY (number),
  CONSTRAINT audit_entry_action_is_known CHECK ((action = ANY (ARRAY['create'::text, 'replace'::text, 'retire'::text, 'restore'::text]))),
  CONSTRAINT audit_entry_actor_is_short CHECK (((actor <> ''::text) AND (length(actor) <= 100))),
  CONSTRAINT audit_entry_says_what CHECK ((((before IS NULL) = (action = 'create'::text)) AND ((after IS NULL) = (action = 'retire'::text))))
);
COMMENT ON TABLE audit_entry IS 'every change made through the editing of the catalogue, and of offers; only added to. What changes the catalogue is written under the lock of catalogue_revision, so that numbers, times and revisions rise together';
COMMENT ON COLUMN audit_entry.entity IS 'part of the catalogue as in the paths: labour-standards; or quotes';
COMMENT ON COLUMN audit_entry.before IS 'the row by its columns; of an offer where it stood, without who it is for; null: it was new';
COMMENT ON COLUMN audit_entry.after IS 'the row by its columns; null: it was retired';
COMMENT ON COLUMN audit_entry.revision IS 'of the catalogue with the change; of an offer''s change, the one of that moment';

CREATE TABLE catalogue_revision (
  only_row boolean NOT NULL DEFAULT true,
  revision bigint NOT NULL,
  CONSTRAINT catalogue_revision_pkey PRIMARY KEY (only_row),
  CONSTRAINT catalogue_revision_counts_up CHECK ((revision > 0)),
  CONSTRAINT catalogue_revision_has_one_row CHECK (only_row)
);
COMMENT ON TABLE catalogue_revision IS 'one row: the number of the catalogue''s present state';

CREATE TABLE catalogue_touch (
  transaction xid8 NOT NULL,
  CONSTRAINT catalogue_touch_pkey PRIMARY KEY (transaction)
);
COMMENT ON TABLE catalogue_touch IS 'transactions that changed the catalogue and have not committed; each row lives until its commit';

CREATE TABLE climate_profile (
  code entity_code NOT NULL,
  name label NOT NULL,
  dry_humidity double precision,
  dry_temperature_c double precision,
  dry_moisture moisture_percent,
  humid_humidity double precision,
  humid_temperature_c double precision,
  humid_moisture moisture_percent,
  source source_id NOT NULL,
  note text NOT NULL DEFAULT ''::text,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  CONSTRAINT climate_profile_pkey PRIMARY KEY (code),
  CONSTRAINT climate_dry_humidity_in_range CHECK (((dry_humidity > (0)::double precision) AND (dry_humidity < (100)::double precision))),
  CONSTRAINT climate_dry_is_air_or_moisture CHECK ((((dry_humidity IS NULL) = (dry_temperature_c IS NULL)) AND ((dry_humidity IS NULL) <> (dry_moisture IS NULL)))),
  CONSTRAINT climate_dry_temperature_in_range CHECK (((dry_temperature_c >= ('-40'::integer)::double precision) AND (dry_temperature_c <= (60)::double precision))),
  CONSTRAINT climate_humid_humidity_in_range CHECK (((humid_humidity > (0)::double precision) AND (humid_humidity < (100)::double precision))),
  CONSTRAINT climate_humid_is_air_or_moisture CHECK ((((humid_humidity IS NULL) = (humid_temperature_c IS NULL)) AND ((humid_humidity IS NULL) <> (humid_moisture IS NULL)))),
  CONSTRAINT climate_humid_temperature_in_range CHECK (((humid_temperature_c >= ('-40'::integer)::double precision) AND (humid_temperature_c <= (60)::double precision))),
  CONSTRAINT climate_moisture_in_order CHECK (((dry_moisture)::double precision <= (humid_moisture)::double precision)),
  CONSTRAINT climate_note_is_short CHECK ((length(note) <= 500))
);
COMMENT ON TABLE climate_profile IS 'named pairs of seasons; each is a state of the air (relative humidity in percent and temperature) or a moisture content';

CREATE TABLE event (
  number bigint NOT NULL,
  id text NOT NULL,
  kind text NOT NULL,
  subject text NOT NULL,
  data jsonb NOT NULL,
  created_at timestamp with time zone NOT NULL,
  dispatched_at timestamp with time zone,
  CONSTRAINT event_id_key UNIQUE (id),
  CONSTRAINT event_pkey PRIMARY KEY (number),
  CONSTRAINT event_data_is_object CHECK ((jsonb_typeof(data) = 'object'::text)),
  CONSTRAINT event_id_is_short CHECK (((id <> ''::text) AND (length(id) <= 64))),
  CONSTRAINT event_kind_is_word CHECK ((kind ~ '^[a-z_]+\.[a-z_]+$'::text)),
  CONSTRAINT event_subject_is_short CHECK (((subject <> ''::text) AND (length(subject) <= 64)))
);
COMMENT ON TABLE event IS 'what happened, for those who asked to be told';
COMMENT ON COLUMN event.kind IS 'such as quote.created, quote.status_changed, quote.drifted, price_update.applied';
COMMENT ON COLUMN event.subject IS 'identifier of the thing it happened to';
COMMENT ON COLUMN event.dispatched_at IS 'when its deliveries were made, or were not to be made; null: they are still to be made';

CREATE TABLE fastener (
  code entity_code NOT NULL,
  kind text NOT NULL,
  width_mm millimetres NOT NULL DEFAULT 0,
  length_mm millimetres NOT NULL DEFAULT 0,
  thickness_mm millimetres NOT NULL DEFAULT 0,
  thread_diameter_mm millimetres NOT NULL DEFAULT 0,
  head_diameter_mm millimetres NOT NULL DEFAULT 0,
  washer_diameter_mm millimetres NOT NULL DEFAULT 0,
  bore_diameter_mm millimetres NOT NULL DEFAULT 0,
  penetration_mm millimetres NOT NULL DEFAULT 0,
  bolt_diameter_mm millimetres NOT NULL DEFAULT 0,
  recess_diameter_mm millimetres NOT NULL DEFAULT 0,
  recess_depth_mm millimetres NOT NULL DEFAULT 0,
  recess_distance_mm millimetres NOT NULL DEFAULT 0,
  bearing_diameter_mm millimetres NOT NULL DEFAULT 0,
  least_thickness_mm millimetres NOT NULL DEFAULT 0,
  greatest_thickness_mm millimetres NOT NULL DEFAULT 0,
  working_load_n double precision NOT NULL DEFAULT 0,
  may_mix_with_bolt boolean NOT NULL DEFAULT false,
  series text NOT NULL DEFAULT ''::text,
  CONSTRAINT fastener_pkey PRIMARY KEY (code),
  CONSTRAINT fastener_is_item FOREIGN KEY (code, kind) REFERENCES item(code, kind) ON DELETE CASCADE,
  CONSTRAINT fastener_alignment_has_measures CHECK (((kind <> ALL (ARRAY['biscuit'::text, 'loose_tenon'::text, 'dowel'::text])) OR (((width_mm)::double precision > (0)::double precision) AND ((length_mm)::double precision > (0)::double precision) AND ((thickness_mm)::double precision > (0)::double precision) AND ((least_thickness_mm)::double precision > (thickness_mm)::double precision)))),
  CONSTRAINT fastener_bolt_has_measures CHECK (((kind <> 'draw_bolt'::text) OR (((length_mm)::double precision > (0)::double precision) AND ((bolt_diameter_mm)::double precision > (0)::double precision) AND ((bearing_diameter_mm)::double precision > (bolt_diameter_mm)::double precision) AND ((recess_diameter_mm)::double precision >= (bearing_diameter_mm)::double precision) AND ((recess_depth_mm)::double precision > (0)::double precision) AND ((recess_distance_mm)::double precision > ((recess_diameter_mm)::double precision / (2)::double precision)) AND ((length_mm)::double precision >= ((2)::double precision * (recess_distance_mm)::double precision)) AND ((least_thickness_mm)::double precision > (recess_depth_mm)::double precision) AND (working_load_n > (0)::double precision)))),
  CONSTRAINT fastener_insert_has_measures CHECK (((kind <> 'threaded_insert'::text) OR (((length_mm)::double precision > (0)::double precision) AND ((thread_diameter_mm)::double precision > (0)::double precision) AND ((head_diameter_mm)::double precision > (thread_diameter_mm)::double precision) AND ((bore_diameter_mm)::double precision > (thread_diameter_mm)::double precision) AND ((penetration_mm)::double precision >= (length_mm)::double precision) AND ((least_thickness_mm)::double precision > (penetration_mm)::double precision)))),
  CONSTRAINT fastener_kind_is_known CHECK ((kind = ANY (ARRAY['biscuit'::text, 'loose_tenon'::text, 'dowel'::text, 'pocket_screw'::text, 'draw_bolt'::text, 'slotted_clip'::text, 'slotted_screw'::text, 'figure_eight'::text, 'button'::text, 'threaded_insert'::text, 'support_bracket'::text, 'support_leg'::text]))),
  CONSTRAINT fastener_let_in_has_length CHECK (((kind <> ALL (ARRAY['figure_eight'::text, 'button'::text])) OR ((length_mm)::double precision > (0)::double precision))),
  CONSTRAINT fastener_only_screws_mix CHECK (((kind = 'pocket_screw'::text) OR (NOT may_mix_with_bolt))),
  CONSTRAINT fastener_pocket_takes_head CHECK (((kind <> 'pocket_screw'::text) OR (((bore_diameter_mm)::double precision >= (head_diameter_mm)::double precision) AND ((least_thickness_mm)::double precision > (0)::double precision)))),
  CONSTRAINT fastener_screw_has_measures CHECK (((kind <> ALL (ARRAY['pocket_screw'::text, 'slotted_screw'::text])) OR (((length_mm)::double precision > (0)::double precision) AND ((thread_diameter_mm)::double precision > (0)::double precision) AND ((head_diameter_mm)::double precision > (thread_diameter_mm)::double precision) AND ((penetration_mm)::double precision > (0)::double precision) AND ((penetration_mm)::double precision < (length_mm)::double precision)))),
  CONSTRAINT fastener_series_is_known CHECK ((series = ANY (ARRAY[''::text, 'metric'::text, 'imperial'::text]))),
  CONSTRAINT fastener_thickness_in_order CHECK ((((greatest_thickness_mm)::double precision = (0)::double precision) OR ((greatest_thickness_mm)::double precision > (least_thickness_mm)::double precision))),
  CONSTRAINT fastener_washer_bears CHECK ((((washer_diameter_mm)::double precision = (0)::double precision) OR ((head_diameter_mm)::double precision >= (washer_diameter_mm)::double precision))),
  CONSTRAINT fastener_working_load_in_range CHECK (((working_load_n >= (0)::double precision) AND (working_load_n <= (1000000)::double precision)))
);
COMMENT ON TABLE fastener IS 'hardware; a measure of zero means that the kind has none';
COMMENT ON COLUMN fastener.width_mm IS 'alignment: along the seam';
COMMENT ON COLUMN fastener.length_mm IS 'alignment: across the seam; screws and bolts: whole length';
COMMENT ON COLUMN fastener.head_diameter_mm IS 'what bears: the head, or its washer when that is larger and fits the pocket';
COMMENT ON COLUMN fastener.recess_distance_mm IS 'from the seam to the recess centre';
COMMENT ON COLUMN fastener.working_load_n IS 'allowable pull of one, from the maker''s data';
COMMENT ON COLUMN fastener.series IS 'sizes that it is made in; empty: it is sold alike everywhere';

CREATE TABLE finish (
  code entity_code NOT NULL,
  kind text NOT NULL DEFAULT 'finish'::text,
  system entity_code NOT NULL,
  coverage_m2 double precision NOT NULL,
  dry_hours double precision NOT NULL,
  coats integer NOT NULL,
  self_heat boolean NOT NULL,
  cure_days double precision,
  excluding double precision,
  CONSTRAINT finish_pkey PRIMARY KEY (code),
  CONSTRAINT finish_is_item FOREIGN KEY (code, kind) REFERENCES item(code, kind) ON DELETE CASCADE,
  CONSTRAINT finish_coats_in_range CHECK (((coats >= 1) AND (coats <= 20))),
  CONSTRAINT finish_coverage_in_range CHECK (((coverage_m2 > (0)::double precision) AND (coverage_m2 <= (200)::double precision))),
  CONSTRAINT finish_cure_days_in_range CHECK (((cure_days > (0)::double precision) AND (cure_days <= (365)::double precision))),
  CONSTRAINT finish_dry_hours_in_range CHECK (((dry_hours >= (0)::double precision) AND (dry_hours <= (720)::double precision))),
  CONSTRAINT finish_excluding_in_range CHECK (((excluding > (0)::double precision) AND (excluding < (100)::double precision))),
  CONSTRAINT finish_kind_is_finish CHECK ((kind = 'finish'::text))
);
COMMENT ON TABLE finish IS 'finishes, sold by the litre';
COMMENT ON COLUMN finish.system IS 'what a request asks for';
COMMENT ON COLUMN finish.coverage_m2 IS 'one coat on one litre';
COMMENT ON COLUMN finish.self_heat IS 'oily rags can catch fire by themselves';
COMMENT ON COLUMN finish.cure_days IS 'days from the last coat until it is fully cured; null: not known, ask its maker';
COMMENT ON COLUMN finish.excluding IS 'percent of the moisture that its usual coats keep out over 14 days of the published test; null: no source gives it';

CREATE TABLE glue (
  code entity_code NOT NULL,
  kind text NOT NULL DEFAULT 'glue'::text,
  spread_m2 double precision NOT NULL,
  clamp_hours double precision NOT NULL,
  CONSTRAINT glue_pkey PRIMARY KEY (code),
  CONSTRAINT glue_is_item FOREIGN KEY (code, kind) REFERENCES item(code, kind) ON DELETE CASCADE,
  CONSTRAINT glue_clamp_hours_in_range CHECK (((clamp_hours >= (0)::double precision) AND (clamp_hours <= (168)::double precision))),
  CONSTRAINT glue_kind_is_glue CHECK ((kind = 'glue'::text)),
  CONSTRAINT glue_spread_in_range CHECK (((spread_m2 > (0)::double precision) AND (spread_m2 <= (100)::double precision)))
);
COMMENT ON TABLE glue IS 'glues for stave joints, sold by the litre';
COMMENT ON COLUMN glue.spread_m2 IS 'glue-line area that one litre covers';

CREATE TABLE idempotency (
  id bytea NOT NULL,
  fingerprint bytea NOT NULL,
  status integer NOT NULL,
  content_type text NOT NULL,
  location text NOT NULL,
  etag text NOT NULL,
  body bytea NOT NULL,
  created_at timestamp with time zone NOT NULL,
  about text,
  CONSTRAINT idempotency_pkey PRIMARY KEY (id),
  CONSTRAINT idempotency_fingerprint_is_sha256 CHECK ((length(fingerprint) = 32)),
  CONSTRAINT idempotency_id_is_sha256 CHECK ((length(id) = 32)),
  CONSTRAINT idempotency_status_is_success CHECK (((status >= 200) AND (status <= 299)))
);
COMMENT ON TABLE idempotency IS 'answers to writes, kept for 24 hours; written in the transaction of the write itself';
COMMENT ON COLUMN idempotency.id IS 'SHA-256 of the caller and its Idempotency-Key';
COMMENT ON COLUMN idempotency.fingerprint IS 'SHA-256 of method, path, query and body: what the key was used for';
COMMENT ON COLUMN idempotency.body IS 'the answer, sealed with what the caller sent: it may show a new access key; nothing: it showed somebody who was erased since';
COMMENT ON COLUMN idempotency.about IS 'the quote that the answer shows; null: none';

CREATE TABLE item (
  code entity_code NOT NULL,
  kind text NOT NULL,
  name label NOT NULL,
  unit text NOT NULL,
  source source_id NOT NULL,
  note text NOT NULL DEFAULT ''::text,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  CONSTRAINT item_has_kind UNIQUE (code, kind),
  CONSTRAINT item_pkey PRIMARY KEY (code),
  CONSTRAINT item_kind_is_known CHECK ((kind = ANY (ARRAY['biscuit'::text, 'loose_tenon'::text, 'dowel'::text, 'pocket_screw'::text, 'draw_bolt'::text, 'slotted_clip'::text, 'slotted_screw'::text, 'figure_eight'::text, 'button'::text, 'threaded_insert'::text, 'support_bracket'::text, 'support_leg'::text, 'lumber'::text, 'panel'::text, 'glue'::text, 'finish'::text, 'sundry'::text]))),
  CONSTRAINT item_note_is_short CHECK ((length(note) <= 500)),
  CONSTRAINT item_unit_fits_kind CHECK (
CASE kind
    WHEN 'lumber'::text THEN (unit = ANY (ARRAY['board_foot'::text, 'cubic_metre'::text]))
    WHEN 'glue'::text THEN (unit = 'litre'::text)
    WHEN 'finish'::text THEN (unit = 'litre'::text)
    WHEN 'sundry'::text THEN (unit = ANY (ARRAY['each'::text, 'litre'::text, 'metre'::text]))
    ELSE (unit = 'each'::text)
END),
  CONSTRAINT item_unit_is_known CHECK ((unit = ANY (ARRAY['each'::text, 'board_foot'::text, 'cubic_metre'::text, 'litre'::text, 'metre'::text])))
);
COMMENT ON TABLE item IS 'fasteners and materials: what both have';

CREATE TABLE item_pack (
  item entity_code NOT NULL,
  size numeric(12,4) NOT NULL,
  retired_at timestamp with time zone,
  CONSTRAINT item_pack_pkey PRIMARY KEY (item, size),
  CONSTRAINT item_pack_item_fkey FOREIGN KEY (item) REFERENCES item(code) ON DELETE CASCADE,
  CONSTRAINT item_pack_size_in_range CHECK (((size > (0)::numeric) AND (size <= (1000000)::numeric)))
);
COMMENT ON TABLE item_pack IS 'containers in which an item is sold';
COMMENT ON COLUMN item_pack.size IS 'content in the item''s unit';
COMMENT ON COLUMN item_pack.retired_at IS 'no longer sold; the row stays because the prices of the past hang on it';

CREATE TABLE labour_role (
  code entity_code NOT NULL,
  name label NOT NULL,
  rate numeric(14,4) NOT NULL,
  source source_id NOT NULL,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  CONSTRAINT labour_role_pkey PRIMARY KEY (code),
  CONSTRAINT labour_role_rate_in_range CHECK (((rate >= (0)::numeric) AND (rate <= (100000)::numeric)))
);
COMMENT ON TABLE labour_role IS 'who does a step';
COMMENT ON COLUMN labour_role.rate IS 'one hour of one person, in the currency of the settings';

CREATE TABLE labour_standard (
  code entity_code NOT NULL,
  name label NOT NULL,
  place integer NOT NULL,
  role entity_code NOT NULL,
  crew integer NOT NULL,
  condition text NOT NULL,
  driver text NOT NULL,
  setup_low minutes NOT NULL,
  setup_likely minutes NOT NULL,
  setup_high minutes NOT NULL,
  each_low minutes NOT NULL,
  each_likely minutes NOT NULL,
  each_high minutes NOT NULL,
  wait_hours double precision NOT NULL DEFAULT 0,
  by_hardness boolean NOT NULL DEFAULT false,
  by_thickness boolean NOT NULL DEFAULT false,
  by_tool boolean NOT NULL DEFAULT false,
  by_experience boolean NOT NULL DEFAULT false,
  note text NOT NULL DEFAULT ''::text,
  source source_id NOT NULL,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  lifts boolean NOT NULL DEFAULT false,
  gives text NOT NULL DEFAULT ''::text,
  CONSTRAINT labour_standard_pkey PRIMARY KEY (code),
  CONSTRAINT labour_standard_role_fkey FOREIGN KEY (role) REFERENCES labour_role(code),
  CONSTRAINT labour_standard_condition_is_known CHECK ((condition = ANY (ARRAY['always'::text, 'edge_glued'::text, 'panel'::text, 'corner'::text, 'miter'::text, 'butt'::text, 'masons_miter'::text, 'straight'::text, 'site_template'::text, 'scribe'::text, 'profile'::text, 'profile_before'::text, 'profile_after'::text, 'carved_corner'::text, 'coped_corner'::text, 'biscuit'::text, 'loose_tenon'::text, 'pocket_screw'::text, 'draw_bolt'::text, 'end_jointed'::text, 'laminated'::text, 'built_up'::text, 'cutout'::text, 'shaped_cutout'::text, 'shown_cutout_edge'::text, 'scribed_wall'::text, 'support_bracket'::text, 'support_leg'::text, 'base_timber'::text, 'finish'::text, 'slotted_holes'::text, 'let_in_fixings'::text, 'threaded_inserts'::text]))),
  CONSTRAINT labour_standard_crew_in_range CHECK (((crew >= 1) AND (crew <= 20))),
  CONSTRAINT labour_standard_driver_is_known CHECK ((driver = ANY (ARRAY['top'::text, 'piece'::text, 'corner'::text, 'seam_metre'::text, 'stave'::text, 'stave_metre'::text, 'glue_line_metre'::text, 'square_metre'::text, 'edge_metre'::text, 'alignment_part'::text, 'pull_part'::text, 'fixing'::text, 'cutout'::text, 'coat'::text, 'coat_square_metre'::text, 'hundred_kilograms'::text, 'moulding_metre'::text, 'clip'::text, 'wall_sealant_litre'::text, 'cover_strip_metre'::text, 'end_joint'::text, 'laminated_square_metre'::text, 'build_up_piece'::text, 'shaped_cutout'::text, 'cutout_edge_metre'::text, 'shown_cutout_edge_metre'::text, 'scribed_wall_metre'::text, 'support_bracket'::text, 'support_leg'::text, 'base_timber_metre'::text]))),
  CONSTRAINT labour_standard_each_in_order CHECK ((((each_low)::double precision <= (each_likely)::double precision) AND ((each_likely)::double precision <= (each_high)::double precision))),
  CONSTRAINT labour_standard_gives_is_known CHECK ((gives = ANY (ARRAY[''::text, 'measuring'::text, 'delivery'::text, 'joining'::text, 'fitting'::text]))),
  CONSTRAINT labour_standard_note_is_short CHECK ((length(note) <= 500)),
  CONSTRAINT labour_standard_place_in_range CHECK (((place >= 1) AND (place <= 100000))),
  CONSTRAINT labour_standard_setup_in_order CHECK ((((setup_low)::double precision <= (setup_likely)::double precision) AND ((setup_likely)::double precision <= (setup_high)::double precision))),
  CONSTRAINT labour_standard_takes_time CHECK ((((setup_high)::double precision + (each_high)::double precision) > (0)::double precision)),
  CONSTRAINT labour_standard_wait_in_range CHECK (((wait_hours >= (0)::double precision) AND (wait_hours <= (2000)::double precision)))
);
COMMENT ON TABLE labour_standard IS 'how long one kind of step takes in this shop; minutes once (setup) and per driver unit (each)';
COMMENT ON COLUMN labour_standard.place IS 'place in the usual order of work';
COMMENT ON COLUMN labour_standard.condition IS 'which tops need the step';
COMMENT ON COLUMN labour_standard.wait_hours IS 'clock hours afterwards';
COMMENT ON COLUMN labour_standard.lifts IS 'slabs are lifted or turned: the crew is at least as many as the heaviest piece needs';
COMMENT ON COLUMN labour_standard.gives IS 'what the customer gets by the step besides the top; empty: nothing';

CREATE TABLE labour_standard_after (
  step entity_code NOT NULL,
  follows entity_code NOT NULL,
  CONSTRAINT labour_standard_after_pkey PRIMARY KEY (step, follows),
  CONSTRAINT labour_standard_after_follows_fkey FOREIGN KEY (follows) REFERENCES labour_standard(code),
  CONSTRAINT labour_standard_after_step_fkey FOREIGN KEY (step) REFERENCES labour_standard(code) ON DELETE CASCADE,
  CONSTRAINT labour_standard_not_after_itself CHECK (((step)::text <> (follows)::text))
);
COMMENT ON TABLE labour_standard_after IS 'which steps a step follows';

CREATE TABLE letterhead_logo (
  one boolean NOT NULL DEFAULT true,
  media text NOT NULL,
  image bytea NOT NULL,
  version bigint NOT NULL,
  updated_at timestamp with time zone NOT NULL,
  updated_by text NOT NULL,
  CONSTRAINT letterhead_logo_pkey PRIMARY KEY (one),
  CONSTRAINT letterhead_logo_author_is_short CHECK (((updated_by <> ''::text) AND (length(updated_by) <= 200))),
  CONSTRAINT letterhead_logo_is_one CHECK (one),
  CONSTRAINT letterhead_logo_is_small CHECK (((length(image) >= 1) AND (length(image) <= 262144))),
  CONSTRAINT letterhead_logo_media_is_known CHECK ((media = ANY (ARRAY['image/png'::text, 'image/jpeg'::text])))
);
COMMENT ON TABLE letterhead_logo IS 'at most one row';

CREATE TABLE lumber (
  code entity_code NOT NULL,
  kind text NOT NULL DEFAULT 'lumber'::text,
  species entity_code NOT NULL,
  rough_thickness_mm millimetres NOT NULL,
  surfaced_thickness_mm millimetres NOT NULL,
  grade label NOT NULL,
  clear_twelfths smallint NOT NULL,
  stock_lengths_mm double precision[] NOT NULL,
  working_width_mm millimetres NOT NULL,
  measured_width_mm millimetres NOT NULL DEFAULT 0,
  CONSTRAINT lumber_pkey PRIMARY KEY (code),
  CONSTRAINT lumber_is_item FOREIGN KEY (code, kind) REFERENCES item(code, kind) ON DELETE CASCADE,
  CONSTRAINT lumber_species_fkey FOREIGN KEY (species) REFERENCES species(code),
  CONSTRAINT lumber_clear_in_range CHECK (((clear_twelfths >= 1) AND (clear_twelfths <= 12))),
  CONSTRAINT lumber_has_stock_lengths CHECK ((((cardinality(stock_lengths_mm) >= 1) AND (cardinality(stock_lengths_mm) <= 30)) AND (array_ndims(stock_lengths_mm) = 1) AND (array_position(stock_lengths_mm, NULL::double precision) IS NULL) AND ((0)::double precision < ALL (stock_lengths_mm)) AND ((30000)::double precision >= ALL (stock_lengths_mm)))),
  CONSTRAINT lumber_kind_is_lumber CHECK ((kind = 'lumber'::text)),
  CONSTRAINT lumber_measured_width_holds_working CHECK ((((measured_width_mm)::double precision = (0)::double precision) OR ((measured_width_mm)::double precision >= (working_width_mm)::double precision))),
  CONSTRAINT lumber_surfacing_takes_wood CHECK ((((surfaced_thickness_mm)::double precision > (0)::double precision) AND ((surfaced_thickness_mm)::double precision < (rough_thickness_mm)::double precision))),
  CONSTRAINT lumber_working_width_is_positive CHECK (((working_width_mm)::double precision > (0)::double precision))
);
COMMENT ON TABLE lumber IS 'rough boards of one species, thickness and grade, sold by the board foot';
COMMENT ON COLUMN lumber.clear_twelfths IS 'least clear yield by the grade''s rule, in twelfths of the surface (cutting units): FAS 10, No. 1 Common 8';
COMMENT ON COLUMN lumber.working_width_mm IS 'width of a board that can be counted on';
COMMENT ON COLUMN lumber.measured_width_mm IS 'mean width by which a board is sold; 0: as wide as it is used, its edges are straight';

CREATE TABLE order_form_request (
  reference text NOT NULL,
  created_at timestamp with time zone NOT NULL,
  content bytea NOT NULL,
  sender bytea NOT NULL,
  name text NOT NULL,
  email text,
  phone text,
  message text NOT NULL,
  request jsonb NOT NULL,
  estimate jsonb NOT NULL,
  shown jsonb NOT NULL,
  revision bigint NOT NULL,
  quote text NOT NULL,
  CONSTRAINT order_form_request_quote_key UNIQUE (quote),
  CONSTRAINT order_form_request_pkey PRIMARY KEY (reference),
  CONSTRAINT order_form_request_quote_fkey FOREIGN KEY (quote) REFERENCES quote(id),
  CONSTRAINT order_form_can_be_answered CHECK (((email IS NOT NULL) OR (phone IS NOT NULL))),
  CONSTRAINT order_form_content_is_hash CHECK ((length(content) = 32)),
  CONSTRAINT order_form_email_is_short CHECK (((length(email) >= 3) AND (length(email) <= 200))),
  CONSTRAINT order_form_estimate_is_object CHECK ((jsonb_typeof(estimate) = 'object'::text)),
  CONSTRAINT order_form_message_is_short CHECK ((length(message) <= 2000)),
  CONSTRAINT order_form_name_is_short CHECK (((name <> ''::text) AND (length(name) <= 100))),
  CONSTRAINT order_form_phone_is_short CHECK (((length(phone) >= 5) AND (length(phone) <= 30))),
  CONSTRAINT order_form_reference_is_short CHECK (((reference <> ''::text) AND (length(reference) <= 64))),
  CONSTRAINT order_form_request_is_object CHECK ((jsonb_typeof(request) = 'object'::text)),
  CONSTRAINT order_form_sender_is_hash CHECK ((length(sender) = 32)),
  CONSTRAINT order_form_shown_is_object CHECK ((jsonb_typeof(shown) = 'object'::text))
);
COMMENT ON TABLE order_form_request IS 'requests of customers by the online order form, kept with their consent';
COMMENT ON COLUMN order_form_request.content IS 'SHA-256 of all that was sent: the same again is kept once';
COMMENT ON COLUMN order_form_request.sender IS 'SHA-256 of day and address, to bound what is kept of one in a day';
COMMENT ON COLUMN order_form_request.request IS 'the top in the customer''s words';
COMMENT ON COLUMN order_form_request.estimate IS 'the request for an estimate that it means; it names no day';
COMMENT ON COLUMN order_form_request.shown IS 'what the customer saw';
COMMENT ON COLUMN order_form_request.revision IS 'of the catalogue that priced it';
COMMENT ON COLUMN order_form_request.quote IS 'the draft that the shop sees';

CREATE TABLE panel (
  code entity_code NOT NULL,
  kind text NOT NULL DEFAULT 'panel'::text,
  species entity_code NOT NULL,
  thickness_mm millimetres NOT NULL,
  width_mm millimetres NOT NULL,
  length_mm millimetres NOT NULL,
  finger_jointed boolean NOT NULL DEFAULT false,
  CONSTRAINT panel_pkey PRIMARY KEY (code),
  CONSTRAINT panel_is_item FOREIGN KEY (code, kind) REFERENCES item(code, kind) ON DELETE CASCADE,
  CONSTRAINT panel_species_fkey FOREIGN KEY (species) REFERENCES species(code),
  CONSTRAINT panel_kind_is_panel CHECK ((kind = 'panel'::text)),
  CONSTRAINT panel_length_is_positive CHECK (((length_mm)::double precision > (0)::double precision)),
  CONSTRAINT panel_thickness_is_positive CHECK (((thickness_mm)::double precision > (0)::double precision)),
  CONSTRAINT panel_width_is_positive CHECK (((width_mm)::double precision > (0)::double precision))
);
COMMENT ON TABLE panel IS 'ready-made edge-glued slabs, sold each';
COMMENT ON COLUMN panel.finger_jointed IS 'its staves are joined end to end from short pieces';

CREATE TABLE place (
  code entity_code NOT NULL,
  name label NOT NULL,
  january moisture_percent NOT NULL,
  february moisture_percent NOT NULL,
  march moisture_percent NOT NULL,
  april moisture_percent NOT NULL,
  may moisture_percent NOT NULL,
  june moisture_percent NOT NULL,
  july moisture_percent NOT NULL,
  august moisture_percent NOT NULL,
  september moisture_percent NOT NULL,
  october moisture_percent NOT NULL,
  november moisture_percent NOT NULL,
  december moisture_percent NOT NULL,
  source source_id NOT NULL,
  verified boolean NOT NULL DEFAULT false,
  note text NOT NULL DEFAULT ''::text,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  CONSTRAINT place_pkey PRIMARY KEY (code),
  CONSTRAINT place_note_is_short CHECK ((length(note) <= 500))
);
COMMENT ON TABLE place IS 'moisture content that the air of a place makes wood come to, month by month';
COMMENT ON COLUMN place.verified IS 'read in a copy of the source, or confirmed against a second one; false: remembered';

CREATE TABLE price (
  item entity_code NOT NULL,
  size numeric(12,4) NOT NULL,
  supplier entity_code NOT NULL,
  valid_from date NOT NULL,
  currency text NOT NULL,
  amount numeric(14,4) NOT NULL,
  listed_per text,
  CONSTRAINT price_pkey PRIMARY KEY (item, size, supplier, valid_from),
  CONSTRAINT price_is_of_pack FOREIGN KEY (item, size) REFERENCES item_pack(item, size) ON DELETE CASCADE,
  CONSTRAINT price_amount_in_range CHECK (((amount > (0)::numeric) AND (amount <= (100000000)::numeric))),
  CONSTRAINT price_currency_is_code CHECK ((currency ~ '^[A-Z]{3}$'::text)),
  CONSTRAINT price_listed_per_is_short CHECK (((listed_per <> ''::text) AND (length(listed_per) <= 40))),
  CONSTRAINT price_valid_from_in_range CHECK (((valid_from >= '2000-01-01'::date) AND (valid_from <= '2199-12-31'::date)))
);
COMMENT ON TABLE price IS 'price history: what one pack costs from a day on, until the supplier''s next row';
COMMENT ON COLUMN price.supplier IS 'known: price_latest, which follows each row, refers to it';
COMMENT ON COLUMN price.amount IS 'for one whole pack';
COMMENT ON COLUMN price.listed_per IS 'the unit for which the supplier''s list gave the price; null: it did not come by a list';

CREATE TABLE price_decision (
  number bigint NOT NULL,
  update_number bigint NOT NULL,
  action text NOT NULL,
  rows integer NOT NULL,
  revision bigint NOT NULL,
  decided_at timestamp with time zone NOT NULL,
  decided_by text NOT NULL,
  CONSTRAINT price_decision_pkey PRIMARY KEY (number),
  CONSTRAINT price_decision_update_number_fkey FOREIGN KEY (update_number) REFERENCES price_update(number) ON DELETE CASCADE,
  CONSTRAINT price_decision_action_is_known CHECK ((action = ANY (ARRAY['approve'::text, 'dismiss'::text])))
);
COMMENT ON TABLE price_decision IS 'who approved or dismissed how many held rows of a list, and when';

CREATE TABLE price_latest (
  supplier entity_code NOT NULL,
  item entity_code NOT NULL,
  size numeric(12,4) NOT NULL,
  valid_from date NOT NULL,
  amount numeric(14,4) NOT NULL,
  listed_per text,
  CONSTRAINT price_latest_pkey PRIMARY KEY (supplier, item, size),
  CONSTRAINT price_latest_supplier_fkey FOREIGN KEY (supplier) REFERENCES supplier(code)
) WITH (fillfactor=85);
COMMENT ON TABLE price_latest IS 'of each pack and supplier the row of price with the last day; written by the triggers of price alone';

CREATE TABLE price_list_day (
  supplier entity_code NOT NULL,
  day date NOT NULL,
  CONSTRAINT price_list_day_pkey PRIMARY KEY (supplier, day),
  CONSTRAINT price_list_day_supplier_fkey FOREIGN KEY (supplier) REFERENCES supplier(code) ON DELETE CASCADE
);
COMMENT ON TABLE price_list_day IS 'days on which lists of a supplier took effect that were applied, or had nothing new to say: they confirm every price in force but those of price_silence';

CREATE TABLE price_silence (
  supplier entity_code NOT NULL,
  item entity_code NOT NULL,
  size numeric(12,4) NOT NULL,
  days datemultirange NOT NULL,
  CONSTRAINT price_silence_pkey PRIMARY KEY (supplier, item, size)
);
COMMENT ON TABLE price_silence IS 'on which of a supplier''s list days no list confirmed the price of a pack; kept for good, as ranges';
COMMENT ON COLUMN price_silence.days IS 'days between two such list days may be in it as well: only list days are asked for';

CREATE TABLE price_update (
  number bigint NOT NULL,
  id text NOT NULL,
  supplier entity_code NOT NULL,
  list_date date NOT NULL,
  effective_from date NOT NULL,
  currency text NOT NULL,
  content bytea NOT NULL,
  idempotency_key text,
  status text NOT NULL,
  held_because text[] NOT NULL,
  understood jsonb NOT NULL,
  counts jsonb NOT NULL,
  largest_moves jsonb NOT NULL,
  basket jsonb NOT NULL,
  revision bigint NOT NULL,
  created_at timestamp with time zone NOT NULL,
  created_by text NOT NULL,
  decided_at timestamp with time zone,
  decided_by text,
  CONSTRAINT price_update_id_key UNIQUE (id),
  CONSTRAINT price_update_pkey PRIMARY KEY (number),
  CONSTRAINT price_update_supplier_fkey FOREIGN KEY (supplier) REFERENCES supplier(code),
  CONSTRAINT price_update_content_is_hash CHECK ((length(content) = 32)),
  CONSTRAINT price_update_status_is_known CHECK ((status = ANY (ARRAY['applied'::text, 'unchanged'::text, 'held'::text, 'dismissed'::text])))
);
COMMENT ON TABLE price_update IS 'every price list that was taken in; never changed but by a decision about what was held';
COMMENT ON COLUMN price_update.content IS 'SHA-256 over the rows, to know the same list again';
COMMENT ON COLUMN price_update.revision IS 'the catalogue''s revision once this was done';

CREATE TABLE price_update_absent (
  update_number bigint NOT NULL,
  item entity_code NOT NULL,
  size numeric(12,4) NOT NULL,
  listed boolean NOT NULL,
  CONSTRAINT price_update_absent_pkey PRIMARY KEY (update_number, item, size),
  CONSTRAINT price_update_absent_update_number_fkey FOREIGN KEY (update_number) REFERENCES price_update(number) ON DELETE CASCADE
);
COMMENT ON TABLE price_update_absent IS 'packs of which a list that was applied says nothing, though the supplier had a price for them on its day: by this a list that comes late knows which later lists speak of a pack. Kept as long as a list may come late';
COMMENT ON COLUMN price_update_absent.listed IS 'the list had the pack, but the row was held or rejected';

CREATE TABLE price_update_row (
  update_number bigint NOT NULL,
  place integer NOT NULL,
  line integer NOT NULL,
  status text NOT NULL,
  list_column text NOT NULL DEFAULT ''::text,
  reason text NOT NULL,
  found text NOT NULL DEFAULT ''::text,
  code text NOT NULL DEFAULT ''::text,
  item text,
  size numeric(12,4),
  amount numeric(20,4),
  before_amount numeric(14,4),
  listed_per text,
  CONSTRAINT price_update_row_pkey PRIMARY KEY (update_number, place),
  CONSTRAINT price_update_row_update_number_fkey FOREIGN KEY (update_number) REFERENCES price_update(number) ON DELETE CASCADE,
  CONSTRAINT price_update_row_status_is_known CHECK ((status = ANY (ARRAY['held'::text, 'rejected'::text, 'approved'::text, 'dismissed'::text])))
);
COMMENT ON TABLE price_update_row IS 'rows that were held (all of them: they may be approved) or rejected (the first ten thousand), in the order of the list';
COMMENT ON COLUMN price_update_row.found IS 'what stood in the list, its beginning';
COMMENT ON COLUMN price_update_row.code IS 'why it was held: move, zero, negative, currency or unit';

CREATE TABLE price_update_staged (
  update_number bigint NOT NULL,
  line integer NOT NULL,
  item text NOT NULL,
  size numeric(12,4) NOT NULL,
  amount numeric(20,4) NOT NULL,
  listed_per text NOT NULL,
  hold text,
  CONSTRAINT price_update_staged_update_number_fkey FOREIGN KEY (update_number) REFERENCES price_update(number) ON DELETE CASCADE
);
COMMENT ON TABLE price_update_staged IS 'all good rows of lists that are held whole, until somebody decides about them';

CREATE TABLE quote (
  id text NOT NULL,
  number bigint NOT NULL,
  status text NOT NULL,
  origin text NOT NULL,
  reference text NOT NULL,
  customer_reference text NOT NULL,
  customer_name text NOT NULL,
  customer_email text NOT NULL,
  customer_phone text NOT NULL,
  customer_address text NOT NULL,
  note text NOT NULL,
  terms text NOT NULL,
  valid_until date NOT NULL,
  revision integer NOT NULL,
  version bigint NOT NULL DEFAULT 1,
  created_at timestamp with time zone NOT NULL,
  created_by text NOT NULL,
  updated_at timestamp with time zone NOT NULL,
  species text[] NOT NULL,
  currency text NOT NULL,
  cost numeric(14,2) NOT NULL,
  net numeric(14,2) NOT NULL,
  total numeric(14,2) NOT NULL,
  checked_revision bigint NOT NULL,
  checked_day date NOT NULL,
  cost_now numeric(14,2),
  moved numeric(10,2),
  check_failed text,
  external_id text NOT NULL DEFAULT ''::text,
  metadata jsonb NOT NULL DEFAULT '{}'::jsonb,
  CONSTRAINT quote_number_key UNIQUE (number),
  CONSTRAINT quote_pkey PRIMARY KEY (id),
  CONSTRAINT quote_author_is_short CHECK ((length(created_by) <= 200)),
  CONSTRAINT quote_check_failed_is_short CHECK ((length(check_failed) <= 2000)),
  CONSTRAINT quote_currency_is_code CHECK ((currency ~ '^[A-Z]{3}$'::text)),
  CONSTRAINT quote_customer_address_is_short CHECK ((length(customer_address) <= 500)),
  CONSTRAINT quote_customer_email_is_short CHECK ((length(customer_email) <= 254)),
  CONSTRAINT quote_customer_name_is_short CHECK ((length(customer_name) <= 200)),
  CONSTRAINT quote_customer_phone_is_short CHECK ((length(customer_phone) <= 50)),
  CONSTRAINT quote_customer_reference_is_short CHECK ((length(customer_reference) <= 100)),
  CONSTRAINT quote_external_id_is_short CHECK ((length(external_id) <= 200)),
  CONSTRAINT quote_id_is_short CHECK ((id ~ '^quote_[a-z2-7]{26}$'::text)),
  CONSTRAINT quote_metadata_is_object CHECK ((jsonb_typeof(metadata) = 'object'::text)),
  CONSTRAINT quote_note_is_short CHECK ((length(note) <= 4000)),
  CONSTRAINT quote_origin_is_known CHECK ((origin = ANY (ARRAY['shop'::text, 'order_form'::text]))),
  CONSTRAINT quote_reference_is_short CHECK ((length(reference) <= 200)),
  CONSTRAINT quote_revision_is_counted CHECK ((revision > 0)),
  CONSTRAINT quote_status_is_known CHECK ((status = ANY (ARRAY['draft'::text, 'sent'::text, 'accepted'::text, 'declined'::text, 'expired'::text, 'withdrawn'::text]))),
  CONSTRAINT quote_terms_are_short CHECK ((length(terms) <= 8000))
);
COMMENT ON TABLE quote IS 'an offer as it stands now; its revisions are frozen in quote_revision';
COMMENT ON COLUMN quote.checked_revision IS 'catalogue revision and shop''s day by which the cost was last worked out anew';
COMMENT ON COLUMN quote.cost_now IS 'what the top would cost then; null: as it was offered';
COMMENT ON COLUMN quote.moved IS 'percent by which that cost is away from the offered one; null: not at all';
COMMENT ON COLUMN quote.check_failed IS 'why the cost could not be worked out anew';
COMMENT ON COLUMN quote.external_id IS 'another system''s name for it, of no other offer; empty: none';
COMMENT ON COLUMN quote.metadata IS 'texts by name, kept for another system';

CREATE TABLE quote_actual (
  quote text NOT NULL,
  revision integer NOT NULL,
  finished date NOT NULL,
  note text NOT NULL,
  steps jsonb NOT NULL,
  materials jsonb NOT NULL,
  defects text[] NOT NULL,
  reported_at timestamp with time zone NOT NULL,
  reported_by text NOT NULL,
  CONSTRAINT quote_actual_pkey PRIMARY KEY (quote),
  CONSTRAINT quote_actual_quote_revision_fkey FOREIGN KEY (quote, revision) REFERENCES quote_revision(quote, number),
  CONSTRAINT quote_actual_author_is_short CHECK (((reported_by <> ''::text) AND (length(reported_by) <= 200))),
  CONSTRAINT quote_actual_materials_are_a_list CHECK ((jsonb_typeof(materials) = 'array'::text)),
  CONSTRAINT quote_actual_note_is_short CHECK ((length(note) <= 4000)),
  CONSTRAINT quote_actual_steps_are_a_list CHECK ((jsonb_typeof(steps) = 'array'::text))
);
COMMENT ON TABLE quote_actual IS 'what a finished job took: one report an offer, the last one counts';
COMMENT ON COLUMN quote_actual.steps IS 'code, estimated minutes with their deviation, minutes taken';

CREATE TABLE quote_further_species (
  number bigint NOT NULL,
  further_species text NOT NULL,
  created_at timestamp with time zone NOT NULL,
  CONSTRAINT quote_further_species_pkey PRIMARY KEY (number, further_species),
  CONSTRAINT quote_further_species_number_fkey FOREIGN KEY (number) REFERENCES quote(number)
);
COMMENT ON TABLE quote_further_species IS 'species of an offer other than its first; number and time are the offer''s';

CREATE TABLE quote_learning_dismissal (
  code text NOT NULL,
  jobs integer NOT NULL,
  dismissed_at timestamp with time zone NOT NULL,
  dismissed_by text NOT NULL,
  CONSTRAINT quote_learning_dismissal_pkey PRIMARY KEY (code),
  CONSTRAINT quote_learning_dismissal_code_is_short CHECK (((length(code) >= 1) AND (length(code) <= 96)))
);
COMMENT ON TABLE quote_learning_dismissal IS 'proposals that the shop does not want, with how many jobs told of them then';

CREATE TABLE quote_move (
  quote text NOT NULL,
  number bigint NOT NULL,
  at timestamp with time zone NOT NULL,
  actor text NOT NULL,
  before text NOT NULL,
  after text NOT NULL,
  note text NOT NULL,
  CONSTRAINT quote_move_pkey PRIMARY KEY (quote, number),
  CONSTRAINT quote_move_quote_fkey FOREIGN KEY (quote) REFERENCES quote(id),
  CONSTRAINT quote_move_actor_is_short CHECK ((length(actor) <= 200)),
  CONSTRAINT quote_move_note_is_short CHECK ((length(note) <= 1000))
);
COMMENT ON TABLE quote_move IS 'where an offer stood when, and who moved it';

CREATE TABLE quote_revision (
  quote text NOT NULL,
  number integer NOT NULL,
  why text NOT NULL,
  request text NOT NULL,
  answer text NOT NULL,
  catalogue_revision bigint NOT NULL,
  priced_as_of date NOT NULL,
  created_at timestamp with time zone NOT NULL,
  created_by text NOT NULL,
  cost numeric(14,2) NOT NULL,
  net numeric(14,2) NOT NULL,
  total numeric(14,2) NOT NULL,
  CONSTRAINT quote_revision_pkey PRIMARY KEY (quote, number),
  CONSTRAINT quote_revision_quote_fkey FOREIGN KEY (quote) REFERENCES quote(id),
  CONSTRAINT quote_revision_number_is_counted CHECK ((number > 0)),
  CONSTRAINT quote_revision_why_is_known CHECK ((why = ANY (ARRAY['created'::text, 'revised'::text, 'repriced'::text])))
);
COMMENT ON TABLE quote_revision IS 'one revision of an offer: request and answer to the letter. Only added to';

CREATE TABLE seeding (
  only_row boolean NOT NULL DEFAULT true,
  fingerprint text NOT NULL,
  seeded_at timestamp with time zone NOT NULL,
  CONSTRAINT seeding_pkey PRIMARY KEY (only_row),
  CONSTRAINT seeding_has_one_row CHECK (only_row)
);
COMMENT ON TABLE seeding IS 'one row once the demo catalogue has been put in; then it never is again';

CREATE TABLE setting (
  key entity_code NOT NULL,
  value text NOT NULL,
  about text NOT NULL,
  source source_id NOT NULL,
  version bigint NOT NULL DEFAULT 1,
  CONSTRAINT setting_pkey PRIMARY KEY (key),
  CONSTRAINT setting_value_is_short CHECK ((length(value) <= 2000))
);
COMMENT ON TABLE setting IS 'what a shop can change; the program knows kinds, bounds and defaults and adds keys that are missing';

CREATE TABLE species (
  code entity_code NOT NULL,
  name label NOT NULL,
  botanical text NOT NULL DEFAULT ''::text,
  wood_group text NOT NULL,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  dust text NOT NULL DEFAULT ''::text,
  dust_source source_id NOT NULL DEFAULT ''::text,
  law text NOT NULL DEFAULT ''::text,
  law_source source_id NOT NULL DEFAULT ''::text,
  CONSTRAINT species_pkey PRIMARY KEY (code),
  CONSTRAINT species_botanical_is_short CHECK ((length(botanical) <= 200)),
  CONSTRAINT species_dust_is_short CHECK ((length(dust) <= 500)),
  CONSTRAINT species_group_is_known CHECK ((wood_group = ANY (ARRAY['hardwood'::text, 'softwood'::text, 'imported'::text]))),
  CONSTRAINT species_law_is_short CHECK ((length(law) <= 500)),
  CONSTRAINT species_notes_name_their_source CHECK ((((dust = ''::text) = ((dust_source)::text = ''::text)) AND ((law = ''::text) = ((law_source)::text = ''::text))))
);
COMMENT ON TABLE species IS 'woods';
COMMENT ON COLUMN species.wood_group IS 'imported: hardwoods from abroad, listed apart in the handbook';
COMMENT ON COLUMN species.dust IS 'a sentence for those who work the wood; empty: nothing is known beyond what holds for all dust';
COMMENT ON COLUMN species.law IS 'a sentence for those who buy and sell the wood; empty: nothing is known';

CREATE TABLE species_property (
  species entity_code NOT NULL,
  property text NOT NULL,
  value numeric,
  source source_id NOT NULL DEFAULT ''::text,
  verified boolean NOT NULL DEFAULT false,
  note text NOT NULL DEFAULT ''::text,
  CONSTRAINT species_property_pkey PRIMARY KEY (species, property),
  CONSTRAINT species_property_species_fkey FOREIGN KEY (species) REFERENCES species(code) ON DELETE CASCADE,
  CONSTRAINT species_property_names_its_source CHECK (((value IS NULL) = ((source)::text = ''::text))),
  CONSTRAINT species_property_note_is_short CHECK ((length(note) <= 500)),
  CONSTRAINT species_property_value_in_range CHECK (
CASE property
    WHEN 'tangential'::text THEN ((value > (0)::numeric) AND (value < 0.02))
    WHEN 'radial'::text THEN ((value > (0)::numeric) AND (value < 0.02))
    WHEN 'shrinkage_tangential'::text THEN ((value > (0)::numeric) AND (value < (30)::numeric))
    WHEN 'shrinkage_radial'::text THEN ((value > (0)::numeric) AND (value < (30)::numeric))
    WHEN 'shrinkage_volumetric'::text THEN ((value > (0)::numeric) AND (value < (40)::numeric))
    WHEN 'fibre_saturation'::text THEN ((value >= (15)::numeric) AND (value <= (40)::numeric))
    WHEN 'gravity_green'::text THEN ((value > (0)::numeric) AND (value < 1.5))
    WHEN 'gravity_12'::text THEN ((value > (0)::numeric) AND (value < 1.5))
    WHEN 'elasticity'::text THEN ((value > (0)::numeric) AND (value < (50)::numeric))
    WHEN 'bending_strength'::text THEN ((value > (0)::numeric) AND (value < (500000)::numeric))
    WHEN 'tension_across'::text THEN ((value > (0)::numeric) AND (value < (50000)::numeric))
    WHEN 'ratio_tangential'::text THEN ((value > (0)::numeric) AND (value < (1)::numeric))
    WHEN 'ratio_radial'::text THEN ((value > (0)::numeric) AND (value < (1)::numeric))
    WHEN 'ratio_rolling'::text THEN ((value > (0)::numeric) AND (value < (1)::numeric))
    WHEN 'side_hardness'::text THEN ((value > (0)::numeric) AND (value < (50000)::numeric))
    ELSE false
END),
  CONSTRAINT species_property_verified_is_known CHECK (((value IS NOT NULL) OR (NOT verified)))
);
COMMENT ON TABLE species_property IS 'published numbers of a species; a property that no source gives has no row, or a null value with a note';
COMMENT ON COLUMN species_property.value IS 'as printed. tangential, radial: change per percent of moisture (fraction); shrinkage: percent green to oven-dry; fibre_saturation: percent; gravity: relative to water; elasticity: GPa; bending_strength, tension_across: kPa; ratios: of E_L; side_hardness: N';
COMMENT ON COLUMN species_property.verified IS 'read in a copy of the source or confirmed against a second one; false: remembered';

CREATE TABLE sundry (
  code entity_code NOT NULL,
  kind text NOT NULL DEFAULT 'sundry'::text,
  driver text NOT NULL,
  used double precision NOT NULL,
  finish_system entity_code,
  by_use boolean NOT NULL DEFAULT false,
  CONSTRAINT sundry_pkey PRIMARY KEY (code),
  CONSTRAINT sundry_is_item FOREIGN KEY (code, kind) REFERENCES item(code, kind) ON DELETE CASCADE,
  CONSTRAINT sundry_driver_is_known CHECK ((driver = ANY (ARRAY['top'::text, 'piece'::text, 'corner'::text, 'seam_metre'::text, 'stave'::text, 'stave_metre'::text, 'glue_line_metre'::text, 'square_metre'::text, 'edge_metre'::text, 'alignment_part'::text, 'pull_part'::text, 'fixing'::text, 'cutout'::text, 'coat'::text, 'coat_square_metre'::text, 'hundred_kilograms'::text, 'moulding_metre'::text, 'clip'::text, 'wall_sealant_litre'::text, 'cover_strip_metre'::text, 'end_joint'::text, 'laminated_square_metre'::text, 'build_up_piece'::text, 'shaped_cutout'::text, 'cutout_edge_metre'::text, 'shown_cutout_edge_metre'::text, 'scribed_wall_metre'::text, 'support_bracket'::text, 'support_leg'::text, 'base_timber_metre'::text]))),
  CONSTRAINT sundry_kind_is_sundry CHECK ((kind = 'sundry'::text)),
  CONSTRAINT sundry_use_in_range CHECK (((used > (0)::double precision) AND (used <= (10000)::double precision)))
);
COMMENT ON TABLE sundry IS 'small things used in proportion to a driver';
COMMENT ON COLUMN sundry.used IS 'units used per driver unit';
COMMENT ON COLUMN sundry.finish_system IS 'only with this finish system; null: always';
COMMENT ON COLUMN sundry.by_use IS 'charged by what is used, whatever the shop charges';

CREATE TABLE supplier (
  code entity_code NOT NULL,
  name label NOT NULL,
  version bigint NOT NULL DEFAULT 1,
  move_limit price_limit,
  missing_limit price_limit,
  held_limit price_limit,
  retired_at timestamp with time zone,
  list_layout json,
  CONSTRAINT supplier_pkey PRIMARY KEY (code),
  CONSTRAINT supplier_list_layout_is_object CHECK (((json_typeof(list_layout) = 'object'::text) AND (length((list_layout)::text) <= 65536)))
);
COMMENT ON TABLE supplier IS 'who sells';
COMMENT ON COLUMN supplier.move_limit IS 'in place of the setting price_move_limit; null: the setting holds';
COMMENT ON COLUMN supplier.missing_limit IS 'in place of the setting price_missing_limit';
COMMENT ON COLUMN supplier.held_limit IS 'in place of the setting price_held_limit';
COMMENT ON COLUMN supplier.retired_at IS 'sends no lists any more; the row stays, because prices, lists and article numbers hang on it';
COMMENT ON COLUMN supplier.list_layout IS 'how the supplier''s lists look that have a header: sheet, header_line, columns (plain name to header), units (word and unit), separator, decimal_sign, currency, unit; null: plain names';

CREATE TABLE supplier_article (
  supplier entity_code NOT NULL,
  article text NOT NULL,
  item entity_code NOT NULL,
  size numeric(12,4) NOT NULL,
  set_at timestamp with time zone NOT NULL DEFAULT now(),
  set_by text NOT NULL DEFAULT ''::text,
  CONSTRAINT supplier_article_pkey PRIMARY KEY (supplier, article),
  CONSTRAINT supplier_article_is_pack FOREIGN KEY (item, size) REFERENCES item_pack(item, size) ON DELETE CASCADE,
  CONSTRAINT supplier_article_supplier_fkey FOREIGN KEY (supplier) REFERENCES supplier(code) ON DELETE CASCADE,
  CONSTRAINT supplier_article_author_is_short CHECK ((length(set_by) <= 200)),
  CONSTRAINT supplier_article_is_short CHECK (((article <> ''::text) AND (length(article) <= 100) AND (article !~ '[[:cntrl:]]'::text)))
);
COMMENT ON TABLE supplier_article IS 'which pack of which item a supplier means by an article number of his own';

CREATE TABLE tax_region (
  code entity_code NOT NULL,
  name label NOT NULL,
  rate numeric(7,4) NOT NULL,
  lines_rate numeric(7,4),
  note text NOT NULL DEFAULT ''::text,
  version bigint NOT NULL DEFAULT 1,
  retired_at timestamp with time zone,
  CONSTRAINT tax_region_pkey PRIMARY KEY (code),
  CONSTRAINT tax_region_lines_rate_in_range CHECK (((lines_rate >= (0)::numeric) AND (lines_rate <= (100)::numeric))),
  CONSTRAINT tax_region_note_is_short CHECK ((length(note) <= 500)),
  CONSTRAINT tax_region_rate_in_range CHECK (((rate >= (0)::numeric) AND (rate <= (100)::numeric)))
);
COMMENT ON TABLE tax_region IS 'where the shop sells to, and what is taxed there';
COMMENT ON COLUMN tax_region.rate IS 'on the net price of a top, in percent';
COMMENT ON COLUMN tax_region.lines_rate IS 'on what is sold with it where a line names none of its own, in percent; null: as for the top';

CREATE TABLE webhook_attempt (
  delivery bigint NOT NULL,
  number integer NOT NULL,
  at timestamp with time zone NOT NULL,
  took_ms integer NOT NULL,
  status integer,
  failure text,
  CONSTRAINT webhook_attempt_pkey PRIMARY KEY (delivery, number),
  CONSTRAINT webhook_attempt_delivery_fkey FOREIGN KEY (delivery) REFERENCES webhook_delivery(number) ON DELETE CASCADE,
  CONSTRAINT webhook_attempt_failure_is_short CHECK ((length(failure) <= 300))
);
COMMENT ON COLUMN webhook_attempt.status IS 'of the answer; null: none came';
COMMENT ON COLUMN webhook_attempt.failure IS 'null: it was delivered';

CREATE TABLE webhook_delivery (
  number bigint NOT NULL,
  id text NOT NULL,
  event bigint NOT NULL,
  endpoint text NOT NULL,
  state text NOT NULL DEFAULT 'pending'::text,
  tries integer NOT NULL DEFAULT 0,
  attempts integer NOT NULL DEFAULT 0,
  round integer NOT NULL DEFAULT 1,
  next_at timestamp with time zone,
  finished_at timestamp with time zone,
  calling_until timestamp with time zone,
  CONSTRAINT webhook_delivery_event_endpoint_key UNIQUE (event, endpoint),
  CONSTRAINT webhook_delivery_id_key UNIQUE (id),
  CONSTRAINT webhook_delivery_pkey PRIMARY KEY (number),
  CONSTRAINT webhook_delivery_endpoint_fkey FOREIGN KEY (endpoint) REFERENCES webhook_endpoint(id) ON DELETE CASCADE,
  CONSTRAINT webhook_delivery_event_fkey FOREIGN KEY (event) REFERENCES event(number) ON DELETE CASCADE,
  CONSTRAINT webhook_delivery_id_is_short CHECK (((id <> ''::text) AND (length(id) <= 64))),
  CONSTRAINT webhook_delivery_is_over_or_not CHECK ((((state = 'pending'::text) = (finished_at IS NULL)) AND ((state = 'pending'::text) = (next_at IS NOT NULL)))),
  CONSTRAINT webhook_delivery_state_is_known CHECK ((state = ANY (ARRAY['pending'::text, 'delivered'::text, 'dead'::text])))
);
COMMENT ON TABLE webhook_delivery IS 'one event for one endpoint';
COMMENT ON COLUMN webhook_delivery.tries IS 'failed attempts since it was last set going';
COMMENT ON COLUMN webhook_delivery.attempts IS 'attempts of all times';
COMMENT ON COLUMN webhook_delivery.round IS 'rises when it is sent again by hand; jobs of earlier rounds do nothing';
COMMENT ON COLUMN webhook_delivery.calling_until IS 'the endpoint is called, and until then nobody else calls it; null: nobody does';

CREATE TABLE webhook_endpoint (
  id text NOT NULL,
  url text NOT NULL,
  description text NOT NULL,
  kinds text[] NOT NULL,
  enabled boolean NOT NULL,
  disabled_why text,
  secret bytea NOT NULL,
  earlier_secret bytea,
  earlier_until timestamp with time zone,
  version bigint NOT NULL DEFAULT 1,
  created_at timestamp with time zone NOT NULL,
  created_by text NOT NULL,
  updated_at timestamp with time zone NOT NULL,
  CONSTRAINT webhook_endpoint_pkey PRIMARY KEY (id),
  CONSTRAINT webhook_endpoint_author_is_short CHECK (((created_by <> ''::text) AND (length(created_by) <= 200))),
  CONSTRAINT webhook_endpoint_description_is_short CHECK ((length(description) <= 200)),
  CONSTRAINT webhook_endpoint_earlier_secret_ends CHECK (((earlier_secret IS NULL) = (earlier_until IS NULL))),
  CONSTRAINT webhook_endpoint_earlier_secret_is_long CHECK (((length(earlier_secret) >= 24) AND (length(earlier_secret) <= 64))),
  CONSTRAINT webhook_endpoint_id_is_short CHECK (((id <> ''::text) AND (length(id) <= 64))),
  CONSTRAINT webhook_endpoint_reason_is_short CHECK ((length(disabled_why) <= 200)),
  CONSTRAINT webhook_endpoint_says_why CHECK ((enabled <= (disabled_why IS NULL))),
  CONSTRAINT webhook_endpoint_secret_is_long CHECK (((length(secret) >= 24) AND (length(secret) <= 64))),
  CONSTRAINT webhook_endpoint_url_is_short CHECK (((length(url) >= 8) AND (length(url) <= 2000)))
);
COMMENT ON TABLE webhook_endpoint IS 'who wants to be told of events';
COMMENT ON COLUMN webhook_endpoint.kinds IS 'of events; empty: all';
COMMENT ON COLUMN webhook_endpoint.disabled_why IS 'null: somebody switched it off';
COMMENT ON COLUMN webhook_endpoint.secret IS 'signs what is sent, and so cannot be kept as a hash';
COMMENT ON COLUMN webhook_endpoint.earlier_secret IS 'signs as well, for a time after the secret was changed';

CREATE INDEX audit_entry_by_thing ON public.audit_entry USING btree (entity, code, number);
CREATE INDEX audit_entry_by_time ON public.audit_entry USING btree (at, number);
CREATE INDEX event_by_time ON public.event USING btree (created_at);
CREATE INDEX event_of_subject ON public.event USING btree (subject, number);
CREATE INDEX event_waiting ON public.event USING btree (number) WHERE (dispatched_at IS NULL);
CREATE INDEX idempotency_about ON public.idempotency USING btree (about) WHERE (about IS NOT NULL);
CREATE INDEX idempotency_by_age ON public.idempotency USING btree (created_at);
CREATE INDEX labour_standard_after_by_follows ON public.labour_standard_after USING btree (follows);
CREATE INDEX labour_standard_by_role ON public.labour_standard USING btree (role);
CREATE INDEX lumber_by_species ON public.lumber USING btree (species);
CREATE INDEX order_form_request_by_content ON public.order_form_request USING btree (content, created_at);
CREATE INDEX order_form_request_by_time ON public.order_form_request USING btree (created_at, reference);
CREATE INDEX panel_by_species ON public.panel USING btree (species);
CREATE INDEX price_decision_by_update ON public.price_decision USING btree (update_number, number);
CREATE UNIQUE INDEX price_update_by_key ON public.price_update USING btree (supplier, idempotency_key) WHERE (idempotency_key IS NOT NULL);
CREATE INDEX price_update_by_list ON public.price_update USING btree (supplier, list_date, number);
CREATE INDEX price_update_in_order ON public.price_update USING btree (supplier, effective_from, list_date, number);
CREATE INDEX price_update_row_by_status ON public.price_update_row USING btree (update_number, status, place);
CREATE INDEX price_update_staged_by_update ON public.price_update_staged USING btree (update_number);
CREATE INDEX quote_actual_by_day ON public.quote_actual USING btree (finished);
CREATE INDEX quote_by_reference ON public.quote USING btree (lower(reference) text_pattern_ops, created_at, number) INCLUDE (reference, status, valid_until) WHERE (reference <> ''::text);
CREATE INDEX quote_by_total ON public.quote USING btree (total, created_at, number);
CREATE UNIQUE INDEX quote_external_id ON public.quote USING btree (external_id) WHERE (external_id <> ''::text);
CREATE INDEX quote_newest ON public.quote USING btree (created_at DESC, number DESC);
CREATE INDEX quote_newest_of_customer ON public.quote USING btree (customer_reference, created_at DESC, number DESC) WHERE (customer_reference <> ''::text);
CREATE INDEX quote_newest_of_further_species ON public.quote_further_species USING btree (further_species, created_at DESC, number DESC);
CREATE INDEX quote_newest_of_name ON public.quote USING btree (lower(customer_name), created_at DESC, number DESC) WHERE (customer_name <> ''::text);
CREATE INDEX quote_newest_of_species ON public.quote USING btree ((species[1]), created_at DESC, number DESC);
CREATE INDEX quote_newest_of_status ON public.quote USING btree (status, created_at DESC, number DESC);
CREATE INDEX quote_open_by_check ON public.quote USING btree (checked_revision, checked_day) WHERE (status = ANY (ARRAY['draft'::text, 'sent'::text]));
CREATE INDEX quote_open_by_validity ON public.quote USING btree (valid_until, created_at, number) WHERE (status = ANY (ARRAY['draft'::text, 'sent'::text]));
CREATE INDEX quote_open_moved ON public.quote USING btree (abs(moved), created_at, number) INCLUDE (moved) WHERE ((status = ANY (ARRAY['draft'::text, 'sent'::text])) AND (moved IS NOT NULL));
CREATE INDEX supplier_article_by_pack ON public.supplier_article USING btree (item, size);
CREATE INDEX webhook_delivery_by_endpoint ON public.webhook_delivery USING btree (endpoint, number);
CREATE INDEX webhook_delivery_calling ON public.webhook_delivery USING btree (calling_until) WHERE (calling_until IS NOT NULL);
CREATE INDEX webhook_delivery_dead ON public.webhook_delivery USING btree (number) WHERE (state = 'dead'::text);
CREATE INDEX webhook_delivery_pending ON public.webhook_delivery USING btree (number) WHERE (state = 'pending'::text);

CREATE OR REPLACE FUNCTION public.access_state_rises()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  UPDATE access_state SET version = version + 1;
  RETURN NULL;
END
$function$
;
COMMENT ON FUNCTION access_state_rises() IS 'statement trigger of access_key: every instance sees that it must read the keys again';
CREATE OR REPLACE FUNCTION public.audit_stays()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  RAISE EXCEPTION 'entries of the audit trail are never changed or deleted';
END
$function$
;
COMMENT ON FUNCTION audit_stays() IS 'statement trigger of audit_entry: it is only added to';
CREATE OR REPLACE FUNCTION public.catalogue_mark()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  INSERT INTO catalogue_touch (transaction) VALUES (pg_current_xact_id()) ON CONFLICT DO NOTHING;
  RETURN NULL;
END
$function$
;
COMMENT ON FUNCTION catalogue_mark() IS 'statement trigger of every catalogue table';
CREATE OR REPLACE FUNCTION public.catalogue_raise()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
DECLARE
  raised bigint;
BEGIN
  UPDATE catalogue_revision SET revision = revision + 1 RETURNING revision INTO STRICT raised;
  DELETE FROM catalogue_touch WHERE transaction = NEW.transaction;
  PERFORM pg_notify('catalogue', raised::text);
  RETURN NULL;
END
$function$
;
COMMENT ON FUNCTION catalogue_raise() IS 'raises the revision and announces it, once a transaction, at commit';
CREATE OR REPLACE FUNCTION public.emit_event(id text, kind text, subject text, data jsonb, at timestamp with time zone)
 RETURNS void
 LANGUAGE sql
AS $function$
  INSERT INTO event (id, kind, subject, data, created_at, dispatched_at)
  SELECT $1, $2, $3, $4, $5, CASE WHEN EXISTS (SELECT FROM webhook_endpoint e WHERE e.enabled AND (e.kinds = '{}' OR $2 = ANY (e.kinds))) THEN NULL ELSE $5 END
$function$
;
COMMENT ON FUNCTION emit_event() IS 'the one way to write an event; one that nobody wants to hear of is dispatched at once';
CREATE OR REPLACE FUNCTION public.next_version()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  NEW.version := OLD.version + 1;
  RETURN NEW;
END
$function$
;
COMMENT ON FUNCTION next_version() IS 'row trigger: counts the changes of a row, whoever makes them, for optimistic concurrency; a writer of a table that hangs on this one (properties, packs, what a step follows) updates this row too';
CREATE OR REPLACE FUNCTION public.price_latest_follows()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  IF TG_OP = 'TRUNCATE' THEN
    DELETE FROM price_latest;
    RETURN NULL;
  END IF;
  IF TG_OP <> 'INSERT' THEN -- the last row may be gone: look for the one before
    DELETE FROM price_latest l
    USING before_change b
    WHERE l.supplier = b.supplier AND l.item = b.item AND l.size = b.size AND l.valid_from = b.valid_from;
    INSERT INTO price_latest (supplier, item, size, valid_from, amount, listed_per)
    SELECT DISTINCT ON (p.supplier, p.item, p.size) p.supplier, p.item, p.size, p.valid_from, p.amount, p.listed_per
    FROM before_change b
    JOIN price p ON p.item = b.item AND p.size = b.size AND p.supplier = b.supplier
    ORDER BY p.supplier, p.item, p.size, p.valid_from DESC
    ON CONFLICT (supplier, item, size) DO NOTHING;
  END IF;
  IF TG_OP <> 'DELETE' THEN
    INSERT INTO price_latest AS l (supplier, item, size, valid_from, amount, listed_per)
    SELECT DISTINCT ON (supplier, item, size) supplier, item, size, valid_from, amount, listed_per
    FROM after_change
    ORDER BY supplier, item, size, valid_from DESC
    ON CONFLICT (supplier, item, size) DO UPDATE
      SET valid_from = excluded.valid_from, amount = excluded.amount, listed_per = excluded.listed_per
      WHERE excluded.valid_from >= l.valid_from;
  END IF;
  RETURN NULL;
END
$function$
;
COMMENT ON FUNCTION price_latest_follows() IS 'statement trigger of price: keeps price_latest';
CREATE OR REPLACE FUNCTION public.quote_moves_as_allowed()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  IF (OLD.status, NEW.status) NOT IN (('draft', 'sent'), ('draft', 'withdrawn'), ('sent', 'accepted'), ('sent', 'declined'), ('sent', 'expired'),
                                      ('sent', 'withdrawn'), ('sent', 'draft'), ('declined', 'draft'), ('expired', 'draft')) THEN
    RAISE EXCEPTION 'an offer that is % cannot become %', OLD.status, NEW.status;
  END IF;
  RETURN NEW;
END
$function$
;
COMMENT ON FUNCTION quote_moves_as_allowed() IS 'row trigger of quote: its status only goes the ways that there are';
CREATE OR REPLACE FUNCTION public.quote_notes_further_species()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  DELETE FROM quote_further_species WHERE number = NEW.number;
  INSERT INTO quote_further_species (number, further_species, created_at)
  SELECT DISTINCT NEW.number, s, NEW.created_at FROM unnest(NEW.species) s WHERE s <> NEW.species[1];
  RETURN NULL;
END
$function$
;
COMMENT ON FUNCTION quote_notes_further_species() IS 'row trigger of quote: keeps quote_further_species';
CREATE OR REPLACE FUNCTION public.quote_revision_stays()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
BEGIN
  RAISE EXCEPTION 'revisions of quotes are never changed or deleted';
END
$function$
;
COMMENT ON FUNCTION quote_revision_stays() IS 'statement trigger of quote_revision: it is only added to';

CREATE TRIGGER access_key_changes AFTER INSERT OR DELETE OR UPDATE OF kind, name, scopes, origins, hash, expires_at, revoked_at ON public.access_key FOR EACH STATEMENT EXECUTE FUNCTION access_state_rises();
CREATE TRIGGER audit_entry_stays BEFORE DELETE OR UPDATE OR TRUNCATE ON public.audit_entry FOR EACH STATEMENT EXECUTE FUNCTION audit_stays();
CREATE CONSTRAINT TRIGGER catalogue_revision_rises AFTER INSERT ON public.catalogue_touch DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION catalogue_raise();
CREATE TRIGGER climate_profile_counts BEFORE UPDATE ON public.climate_profile FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER climate_profile_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.climate_profile FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER fastener_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.fastener FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER finish_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.finish FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER glue_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.glue FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER item_counts BEFORE UPDATE ON public.item FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER item_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.item FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER item_pack_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.item_pack FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER labour_role_counts BEFORE UPDATE ON public.labour_role FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER labour_role_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.labour_role FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER labour_standard_counts BEFORE UPDATE ON public.labour_standard FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER labour_standard_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.labour_standard FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER labour_standard_after_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.labour_standard_after FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER lumber_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.lumber FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER panel_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.panel FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER place_counts BEFORE UPDATE ON public.place FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER place_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.place FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER price_latest_deletes AFTER DELETE ON public.price REFERENCING OLD TABLE AS before_change FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_latest_inserts AFTER INSERT ON public.price REFERENCING NEW TABLE AS after_change FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_latest_truncates AFTER TRUNCATE ON public.price FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_latest_updates AFTER UPDATE ON public.price REFERENCING OLD TABLE AS before_change NEW TABLE AS after_change FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.price FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER price_list_day_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.price_list_day FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER price_silence_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.price_silence FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER quote_changes_further_species AFTER UPDATE OF species ON public.quote FOR EACH ROW WHEN ((new.species <> old.species)) EXECUTE FUNCTION quote_notes_further_species();
CREATE TRIGGER quote_moves_as_allowed BEFORE UPDATE OF status ON public.quote FOR EACH ROW WHEN ((old.status <> new.status)) EXECUTE FUNCTION quote_moves_as_allowed();
CREATE TRIGGER quote_notes_further_species AFTER INSERT ON public.quote FOR EACH ROW WHEN ((new.species <> array_fill(new.species[1], ARRAY[cardinality(new.species)]))) EXECUTE FUNCTION quote_notes_further_species();
CREATE TRIGGER quote_revision_stays BEFORE DELETE OR UPDATE OR TRUNCATE ON public.quote_revision FOR EACH STATEMENT EXECUTE FUNCTION quote_revision_stays();
CREATE TRIGGER setting_counts BEFORE UPDATE ON public.setting FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER setting_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.setting FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER species_counts BEFORE UPDATE ON public.species FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER species_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.species FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER species_property_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.species_property FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER sundry_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.sundry FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER supplier_counts BEFORE UPDATE ON public.supplier FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER supplier_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.supplier FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER tax_region_counts BEFORE UPDATE ON public.tax_region FOR EACH ROW EXECUTE FUNCTION next_version();
CREATE TRIGGER tax_region_marks AFTER INSERT OR DELETE OR UPDATE OR TRUNCATE ON public.tax_region FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
