-- What the months of a year make of wood, by place, and what a finish keeps of it: for the seasons of a slab. Places are published and
-- remembered, none was read; of the shipped finishes two were in the published test.

-- +goose Up

CREATE TABLE place (
  code       entity_code PRIMARY KEY,
  name       label NOT NULL,
  january    moisture_percent NOT NULL,
  february   moisture_percent NOT NULL,
  march      moisture_percent NOT NULL,
  april      moisture_percent NOT NULL,
  may        moisture_percent NOT NULL,
  june       moisture_percent NOT NULL,
  july       moisture_percent NOT NULL,
  august     moisture_percent NOT NULL,
  september  moisture_percent NOT NULL,
  october    moisture_percent NOT NULL,
  november   moisture_percent NOT NULL,
  december   moisture_percent NOT NULL,
  source     source_id NOT NULL,
  verified   boolean NOT NULL DEFAULT false,
  note       text NOT NULL DEFAULT '' CONSTRAINT place_note_is_short CHECK (length(note) <= 500),
  version    bigint NOT NULL DEFAULT 1,
  retired_at timestamptz
);
COMMENT ON TABLE place IS 'moisture content that the air of a place makes wood come to, month by month';
COMMENT ON COLUMN place.verified IS 'read in a copy of the source, or confirmed against a second one; false: remembered';

CREATE TRIGGER place_marks  AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON place FOR EACH STATEMENT EXECUTE FUNCTION catalogue_mark();
CREATE TRIGGER place_counts BEFORE UPDATE ON place FOR EACH ROW EXECUTE FUNCTION next_version();

ALTER TABLE finish ADD COLUMN excluding double precision CONSTRAINT finish_excluding_in_range CHECK (excluding > 0 AND excluding < 100);
COMMENT ON COLUMN finish.excluding IS 'percent of the moisture that its usual coats keep out over 14 days of the published test; null: no source gives it';

-- +goose StatementBegin
DO $$
BEGIN
  IF NOT EXISTS (SELECT FROM seeding) THEN
    RETURN; -- the seed comes after the migrations
  END IF;

  UPDATE finish SET excluding = published.percent
  FROM (VALUES ('finish_tung_oil', 'tung_oil', 2), ('finish_film_varnish', 'film_varnish', 30)) AS published (code, system, percent)
  WHERE finish.code = published.code AND finish.system = published.system;

  INSERT INTO place (code, name, january, february, march, april, may, june, july, august, september, october, november, december, source, note)
  VALUES
    ('albuquerque_nm', 'Albuquerque, NM', 10.4, 9.3, 8.0, 6.9, 6.8, 6.4, 8.0, 8.9, 8.7, 8.6, 9.6, 10.7, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('atlanta_ga', 'Atlanta, GA', 13.3, 12.3, 12.0, 11.8, 12.5, 13.0, 13.8, 14.2, 13.9, 13.0, 12.9, 13.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('boise_id', 'Boise, ID', 15.2, 13.5, 11.1, 10.0, 9.7, 9.0, 7.3, 7.3, 8.4, 10.0, 13.3, 15.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('boston_ma', 'Boston, MA', 11.8, 11.6, 11.9, 11.7, 12.2, 12.1, 11.9, 12.5, 13.1, 12.8, 12.6, 12.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('charleston_sc', 'Charleston, SC', 13.3, 12.6, 12.5, 12.4, 12.8, 13.5, 14.1, 14.6, 14.5, 13.7, 13.2, 13.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('charleston_wv', 'Charleston, WV', 13.7, 13.0, 12.1, 11.4, 12.5, 13.3, 14.1, 14.3, 14.0, 13.6, 13.0, 13.5, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('cheyenne_wy', 'Cheyenne, WY', 10.2, 10.4, 10.7, 10.4, 10.8, 10.5, 9.9, 9.9, 9.7, 9.7, 10.6, 10.6, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('chicago_il', 'Chicago, IL', 14.2, 13.7, 13.4, 12.5, 12.2, 12.4, 12.8, 13.3, 13.3, 12.9, 14.0, 14.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('cleveland_oh', 'Cleveland, OH', 14.6, 14.2, 13.7, 12.6, 12.7, 12.7, 12.8, 13.7, 13.8, 13.3, 13.8, 14.6, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('dallas_ft_worth_tx', 'Dallas-Ft. Worth, TX', 13.6, 13.1, 12.9, 13.2, 13.9, 13.0, 11.6, 11.7, 12.9, 12.8, 13.1, 13.5, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('denver_co', 'Denver, CO', 10.7, 10.5, 10.2, 9.6, 10.2, 9.6, 9.4, 9.6, 9.5, 9.5, 11.0, 11.0, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('des_moines_ia', 'Des Moines, IA', 14.0, 13.9, 13.3, 12.6, 12.4, 12.6, 13.1, 13.4, 13.7, 12.7, 13.9, 14.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('detroit_mi', 'Detroit, MI', 14.7, 14.1, 13.5, 12.6, 12.3, 12.3, 12.6, 13.3, 13.7, 13.5, 14.4, 15.1, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('el_paso_tx', 'El Paso, TX', 9.6, 8.2, 7.0, 5.8, 6.1, 6.3, 8.3, 9.1, 9.3, 8.8, 9.0, 9.8, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('fargo_nd', 'Fargo, ND', 14.2, 14.6, 15.2, 12.9, 11.9, 12.9, 13.2, 13.2, 13.7, 13.5, 15.2, 15.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('flagstaff_az', 'Flagstaff, AZ', 11.8, 11.4, 10.8, 9.3, 8.8, 7.5, 9.7, 11.1, 10.3, 10.1, 10.8, 11.8, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('fresno_ca', 'Fresno, CA', 16.4, 14.1, 12.6, 10.6, 9.1, 8.2, 7.8, 8.4, 9.2, 10.3, 13.4, 16.6, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('honolulu_hi', 'Honolulu, HI', 13.3, 12.8, 11.9, 11.3, 10.8, 10.6, 10.6, 10.7, 10.8, 11.3, 12.1, 12.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('indianapolis_in', 'Indianapolis, IN', 15.1, 14.6, 13.8, 12.8, 13.0, 12.8, 13.9, 14.5, 14.2, 13.7, 14.8, 15.7, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('jackson_ms', 'Jackson, MS', 15.1, 14.4, 13.7, 13.8, 14.1, 13.9, 14.6, 14.6, 14.6, 14.1, 14.3, 14.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('juneau_ak', 'Juneau, AK', 16.5, 16.0, 15.1, 13.9, 13.6, 13.9, 15.1, 16.5, 18.1, 18.0, 17.7, 18.1, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('las_vegas_nv', 'Las Vegas, NV', 8.5, 7.7, 7.0, 5.5, 5.0, 4.0, 4.5, 5.2, 5.3, 5.9, 7.2, 8.4, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('little_rock_ar', 'Little Rock, AR', 13.8, 13.2, 12.8, 13.1, 13.7, 13.1, 13.3, 13.5, 13.9, 13.1, 13.5, 13.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('los_angeles_ca', 'Los Angeles, CA', 12.2, 13.0, 13.8, 13.8, 14.4, 14.8, 15.0, 15.1, 14.5, 13.8, 12.4, 12.1, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('louisville_ky', 'Louisville, KY', 13.7, 13.3, 12.6, 12.0, 12.8, 13.0, 13.3, 13.7, 14.1, 13.3, 13.5, 13.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('madison_wi', 'Madison, WI', 14.5, 14.3, 14.1, 12.8, 12.5, 12.8, 13.4, 14.4, 14.9, 14.1, 15.2, 15.7, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('memphis_tn', 'Memphis, TN', 13.8, 13.1, 12.4, 12.2, 12.7, 12.8, 13.0, 13.1, 13.2, 12.5, 12.9, 13.6, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('miami_fl', 'Miami, FL', 13.5, 13.1, 12.8, 12.3, 12.7, 14.0, 13.7, 14.1, 14.5, 13.5, 13.9, 13.4, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('minneapolis_st_paul_mn', 'Minneapolis-St. Paul, MN', 13.7, 13.6, 13.3, 12.0, 11.9, 12.3, 12.5, 13.2, 13.8, 13.3, 14.3, 14.6, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('missoula_mt', 'Missoula, MT', 16.7, 15.1, 12.8, 11.4, 11.6, 11.7, 10.1, 9.8, 11.3, 12.9, 16.2, 17.6, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('mobile_al', 'Mobile, AL', 13.8, 13.1, 13.3, 13.3, 13.4, 13.3, 14.2, 14.4, 13.9, 13.0, 13.7, 14.0, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('new_orleans_la', 'New Orleans, LA', 14.9, 14.3, 14.0, 14.2, 14.1, 14.6, 15.2, 15.3, 14.8, 14.0, 14.2, 15.0, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('new_york_ny', 'New York, NY', 12.2, 11.9, 11.5, 11.0, 11.5, 11.8, 11.8, 12.4, 12.6, 12.3, 12.5, 12.3, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('oklahoma_city_ok', 'Oklahoma City, OK', 13.2, 12.9, 12.2, 12.1, 13.4, 13.1, 11.7, 11.8, 12.9, 12.3, 12.8, 13.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('omaha_ne', 'Omaha, NE', 14.0, 13.8, 13.0, 12.1, 12.6, 12.9, 13.3, 13.8, 14.0, 13.0, 13.9, 14.8, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('pendleton_or', 'Pendleton, OR', 15.8, 14.0, 11.6, 10.6, 9.9, 9.1, 7.4, 7.7, 8.8, 11.0, 14.6, 16.5, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('philadelphia_pa', 'Philadelphia, PA', 12.6, 11.9, 11.7, 11.2, 11.8, 11.9, 12.1, 12.4, 13.0, 13.0, 12.7, 12.7, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('phoenix_az', 'Phoenix, AZ', 9.4, 8.4, 7.9, 6.1, 5.1, 4.6, 6.2, 6.9, 6.9, 7.0, 8.2, 9.5, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('portland_me', 'Portland, ME', 13.1, 12.7, 12.7, 12.1, 12.6, 13.0, 13.0, 13.4, 13.9, 13.8, 14.0, 13.5, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('portland_or', 'Portland, OR', 16.5, 15.3, 14.2, 13.5, 13.1, 12.4, 11.7, 11.9, 12.6, 15.0, 16.8, 17.4, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('raleigh_nc', 'Raleigh, NC', 12.8, 12.1, 12.2, 11.7, 13.1, 13.4, 13.8, 14.5, 14.5, 13.7, 12.9, 12.8, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('reno_nv', 'Reno, NV', 12.3, 10.7, 9.7, 8.8, 8.8, 8.2, 7.7, 7.9, 8.4, 9.4, 10.9, 12.3, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('richmond_va', 'Richmond, VA', 13.2, 12.5, 12.0, 11.3, 12.1, 12.4, 13.0, 13.7, 13.8, 13.5, 12.8, 13.0, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('salt_lake_city_ut', 'Salt Lake City, UT', 14.6, 13.2, 11.1, 10.0, 9.4, 8.2, 7.1, 7.4, 8.5, 10.3, 12.8, 14.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('seattle_tacoma_wa', 'Seattle-Tacoma, WA', 15.6, 14.6, 15.4, 13.7, 13.0, 12.7, 12.2, 12.5, 13.5, 15.3, 16.3, 16.5, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('sioux_falls_sd', 'Sioux Falls, SD', 14.2, 14.6, 14.2, 12.9, 12.6, 12.8, 12.6, 13.3, 13.6, 13.0, 14.6, 15.3, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('st_louis_mo', 'St. Louis, MO', 14.5, 14.1, 13.2, 12.4, 12.8, 12.6, 12.9, 13.3, 13.7, 13.1, 14.0, 14.9, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('washington_dc', 'Washington, DC', 11.8, 11.5, 11.3, 11.1, 11.6, 11.7, 11.7, 12.3, 12.6, 12.5, 12.2, 12.2, 'FPL-RN-0268', 'outdoors under cover; remembered'),
    ('wichita_ks', 'Wichita, KS', 13.8, 13.4, 12.4, 12.4, 13.2, 12.5, 11.5, 11.8, 12.6, 12.4, 13.2, 13.9, 'FPL-RN-0268', 'outdoors under cover; remembered');
END
$$;
-- +goose StatementEnd
