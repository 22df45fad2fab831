-- Where an offer may go from where it stands, held by the database as well.

-- +goose Up

-- +goose StatementBegin
CREATE FUNCTION quote_moves_as_allowed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (OLD.status, NEW.status) NOT IN (('draft', 'sent'), ('draft', 'withdrawn'), ('sent', 'accepted'), ('sent', 'declined'), ('sent', 'expired'),
                                      ('sent', 'withdrawn'), ('sent', 'draft'), ('declined', 'draft'), ('expired', 'draft')) THEN
    RAISE EXCEPTION 'an offer that is % cannot become %', OLD.status, NEW.status;
  END IF;
  RETURN NEW;
END
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION quote_moves_as_allowed() IS 'row trigger of quote: its status only goes the ways that there are';
CREATE TRIGGER quote_moves_as_allowed BEFORE UPDATE OF status ON quote FOR EACH ROW
  WHEN (OLD.status <> NEW.status) EXECUTE FUNCTION quote_moves_as_allowed();
