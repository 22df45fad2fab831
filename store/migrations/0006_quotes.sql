-- Offers: the request, the answer and the catalogue's revision, frozen; numbered revisions; where each offer stands.

-- +goose Up

CREATE TABLE quote (
  id                 text COLLATE "C" PRIMARY KEY CONSTRAINT quote_id_is_short CHECK (id ~ '^quote_[a-z2-7]{26}$'),
  number             bigint GENERATED ALWAYS AS IDENTITY UNIQUE,
  status             text COLLATE "C" NOT NULL CONSTRAINT quote_status_is_known CHECK (status IN ('draft', 'sent', 'accepted', 'declined', 'expired', 'withdrawn')),
  origin             text COLLATE "C" NOT NULL CONSTRAINT quote_origin_is_known CHECK (origin IN ('shop', 'order_form')),
  reference          text NOT NULL CONSTRAINT quote_reference_is_short CHECK (length(reference) <= 200),
  customer_reference text NOT NULL CONSTRAINT quote_customer_reference_is_short CHECK (length(customer_reference) <= 100),
  customer_name      text NOT NULL CONSTRAINT quote_customer_name_is_short CHECK (length(customer_name) <= 200),
  customer_email     text NOT NULL CONSTRAINT quote_customer_email_is_short CHECK (length(customer_email) <= 254),
  customer_phone     text NOT NULL CONSTRAINT quote_customer_phone_is_short CHECK (length(customer_phone) <= 50),
  customer_address   text NOT NULL CONSTRAINT quote_customer_address_is_short CHECK (length(customer_address) <= 500),
  note               text NOT NULL CONSTRAINT quote_note_is_short CHECK (length(note) <= 4000),
  terms              text NOT NULL CONSTRAINT quote_terms_are_short CHECK (length(terms) <= 8000),
  valid_until        date NOT NULL,
  revision           integer NOT NULL CONSTRAINT quote_revision_is_counted CHECK (revision > 0),
  version            bigint NOT NULL DEFAULT 1,
  created_at         timestamptz NOT NULL,
  created_by         text NOT NULL CONSTRAINT quote_author_is_short CHECK (length(created_by) <= 200),
  updated_at         timestamptz NOT NULL,
  species            text[] NOT NULL,
  currency           text COLLATE "C" NOT NULL CONSTRAINT quote_currency_is_code CHECK (currency ~ '^[A-Z]{3}$'),
  cost               numeric(14, 2) NOT NULL,
  net                numeric(14, 2) NOT NULL,
  total              numeric(14, 2) NOT NULL,
  checked_revision   bigint NOT NULL,
  checked_day        date NOT NULL,
  cost_now           numeric(14, 2),
  moved              numeric(10, 2),
  check_failed       text CONSTRAINT quote_check_failed_is_short CHECK (length(check_failed) <= 2000)
);
COMMENT ON TABLE quote IS 'an offer as it stands now; its revisions are frozen in quote_revision';
COMMENT ON COLUMN quote.checked_revision IS 'catalogue revision and shop''s day by which the cost was last worked out anew';
COMMENT ON COLUMN quote.cost_now IS 'what the top would cost then; null: as it was offered';
COMMENT ON COLUMN quote.moved IS 'percent by which that cost is away from the offered one; null: not at all';
COMMENT ON COLUMN quote.check_failed IS 'why the cost could not be worked out anew';

CREATE INDEX quote_by_time ON quote (created_at);
CREATE INDEX quote_by_status ON quote (status, number DESC);
CREATE INDEX quote_by_reference ON quote (lower(reference) text_pattern_ops) WHERE reference <> '';
CREATE INDEX quote_by_customer ON quote (customer_reference, number DESC) WHERE customer_reference <> '';
CREATE INDEX quote_by_customer_name ON quote (lower(customer_name), number DESC) WHERE customer_name <> '';
CREATE INDEX quote_by_species ON quote USING gin (species);
CREATE INDEX quote_by_total ON quote (total);
CREATE INDEX quote_open_by_validity ON quote (valid_until) WHERE status IN ('draft', 'sent');
CREATE INDEX quote_open_by_check ON quote (checked_revision, checked_day) WHERE status IN ('draft', 'sent');
CREATE INDEX quote_open_moved ON quote (abs(moved)) WHERE status IN ('draft', 'sent') AND moved IS NOT NULL;

-- The planner does not use what it knows of these expressions from the partial indexes, and then walks through all offers.
CREATE STATISTICS quote_lower_reference ON lower(reference) FROM quote;
CREATE STATISTICS quote_lower_customer_name ON lower(customer_name) FROM quote;

CREATE TABLE quote_revision (
  quote              text COLLATE "C" NOT NULL REFERENCES quote,
  number             integer NOT NULL CONSTRAINT quote_revision_number_is_counted CHECK (number > 0),
  why                text COLLATE "C" NOT NULL CONSTRAINT quote_revision_why_is_known CHECK (why IN ('created', 'revised', 'repriced')),
  request            text NOT NULL,
  answer             text NOT NULL,
  catalogue_revision bigint NOT NULL,
  priced_as_of       date NOT NULL,
  created_at         timestamptz NOT NULL,
  created_by         text NOT NULL,
  cost               numeric(14, 2) NOT NULL,
  net                numeric(14, 2) NOT NULL,
  total              numeric(14, 2) NOT NULL,
  PRIMARY KEY (quote, number)
);
COMMENT ON TABLE quote_revision IS 'one revision of an offer: request and answer to the letter. Only added to';

-- A quicker compression of the two long texts, where this server has it.
-- +goose StatementBegin
DO $$
BEGIN
  ALTER TABLE quote_revision ALTER COLUMN request SET COMPRESSION lz4, ALTER COLUMN answer SET COMPRESSION lz4;
EXCEPTION WHEN feature_not_supported OR syntax_error OR undefined_object THEN
  NULL;
END
$$;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE FUNCTION quote_revision_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'revisions of quotes are never changed or deleted';
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION quote_revision_stays() IS 'statement trigger of quote_revision: it is only added to';
CREATE TRIGGER quote_revision_stays BEFORE UPDATE OR DELETE OR TRUNCATE ON quote_revision FOR EACH STATEMENT EXECUTE FUNCTION quote_revision_stays();

CREATE TABLE quote_move (
  quote  text COLLATE "C" NOT NULL REFERENCES quote,
  number bigint GENERATED ALWAYS AS IDENTITY,
  at     timestamptz NOT NULL,
  actor  text NOT NULL CONSTRAINT quote_move_actor_is_short CHECK (length(actor) <= 200),
  before text COLLATE "C" NOT NULL,
  after  text COLLATE "C" NOT NULL,
  note   text NOT NULL CONSTRAINT quote_move_note_is_short CHECK (length(note) <= 1000),
  PRIMARY KEY (quote, number)
);
COMMENT ON TABLE quote_move IS 'where an offer stood when, and who moved it';
