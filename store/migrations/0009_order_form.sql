-- What customers asked for by the online order form, for the shop to answer.

-- +goose Up

CREATE TABLE order_form_request (
  reference   text COLLATE "C" PRIMARY KEY CONSTRAINT order_form_reference_is_short CHECK (reference <> '' AND length(reference) <= 64),
  created_at  timestamptz NOT NULL,
  content     bytea NOT NULL CONSTRAINT order_form_content_is_hash CHECK (length(content) = 32),
  sender      bytea NOT NULL CONSTRAINT order_form_sender_is_hash CHECK (length(sender) = 32),
  name        text NOT NULL CONSTRAINT order_form_name_is_short CHECK (name <> '' AND length(name) <= 100),
  email       text CONSTRAINT order_form_email_is_short CHECK (length(email) BETWEEN 3 AND 200),
  phone       text CONSTRAINT order_form_phone_is_short CHECK (length(phone) BETWEEN 5 AND 30),
  message     text NOT NULL CONSTRAINT order_form_message_is_short CHECK (length(message) <= 2000),
  request     jsonb NOT NULL CONSTRAINT order_form_request_is_object CHECK (jsonb_typeof(request) = 'object'),
  estimate    jsonb NOT NULL CONSTRAINT order_form_estimate_is_object CHECK (jsonb_typeof(estimate) = 'object'),
  shown       jsonb NOT NULL CONSTRAINT order_form_shown_is_object CHECK (jsonb_typeof(shown) = 'object'),
  revision    bigint NOT NULL,
  quote       text COLLATE "C" NOT NULL UNIQUE REFERENCES quote,
  CONSTRAINT order_form_can_be_answered CHECK (email IS NOT NULL OR phone IS NOT NULL)
);
CREATE INDEX order_form_request_by_content ON order_form_request (content, created_at);
CREATE INDEX order_form_request_by_time ON order_form_request (created_at, reference);
COMMENT ON TABLE order_form_request IS 'requests of customers by the online order form, kept with their consent';
COMMENT ON COLUMN order_form_request.content IS 'SHA-256 of all that was sent: the same again is kept once';
COMMENT ON COLUMN order_form_request.sender IS 'SHA-256 of day and address, to bound what is kept of one in a day';
COMMENT ON COLUMN order_form_request.request IS 'the top in the customer''s words';
COMMENT ON COLUMN order_form_request.estimate IS 'the request for an estimate that it means; it names no day';
COMMENT ON COLUMN order_form_request.shown IS 'what the customer saw';
COMMENT ON COLUMN order_form_request.quote IS 'the draft that the shop sees';
COMMENT ON COLUMN order_form_request.revision IS 'of the catalogue that priced it';
