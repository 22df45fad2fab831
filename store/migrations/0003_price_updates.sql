-- Suppliers' price lists: what was sent, what came of it, and what it takes to apply lists in any order.

-- +goose Up

-- ---------------------------------------------------------------------------------------------------------
-- Guard rails of one supplier
-- ---------------------------------------------------------------------------------------------------------

CREATE DOMAIN price_limit AS numeric(8, 3)
  CONSTRAINT price_limit_in_range CHECK (VALUE >= 0 AND VALUE <= 10000);
COMMENT ON DOMAIN price_limit IS 'hundredths';

ALTER TABLE supplier
  ADD COLUMN move_limit    price_limit,
  ADD COLUMN missing_limit price_limit,
  ADD COLUMN held_limit    price_limit;
COMMENT ON COLUMN supplier.move_limit IS 'in place of the setting price_move_limit; null: the setting holds';
COMMENT ON COLUMN supplier.missing_limit IS 'in place of the setting price_missing_limit';
COMMENT ON COLUMN supplier.held_limit IS 'in place of the setting price_held_limit';

CREATE TABLE supplier_article (
  supplier entity_code NOT NULL REFERENCES supplier ON DELETE CASCADE,
  article  text COLLATE "C" NOT NULL CONSTRAINT supplier_article_is_short CHECK (article <> '' AND length(article) <= 100 AND article !~ '[[:cntrl:]]'),
  item     entity_code NOT NULL,
  size     numeric(12, 4) NOT NULL,
  set_at   timestamptz NOT NULL DEFAULT now(),
  set_by   text NOT NULL DEFAULT '' CONSTRAINT supplier_article_author_is_short CHECK (length(set_by) <= 200),
  PRIMARY KEY (supplier, article),
  CONSTRAINT supplier_article_is_pack FOREIGN KEY (item, size) REFERENCES item_pack (item, size) ON DELETE CASCADE
);
CREATE INDEX supplier_article_by_pack ON supplier_article (item, size);
COMMENT ON TABLE supplier_article IS 'which pack of which item a supplier means by an article number of his own';

-- ---------------------------------------------------------------------------------------------------------
-- The newest price of every pack and supplier, kept beside the history by its triggers: a list of a million rows
-- is compared with it without going through years of history
-- ---------------------------------------------------------------------------------------------------------

ALTER TABLE price ADD COLUMN listed_per text COLLATE "C"
  CONSTRAINT price_listed_per_is_short CHECK (listed_per <> '' AND length(listed_per) <= 40);
COMMENT ON COLUMN price.listed_per IS 'the unit for which the supplier''s list gave the price; null: it did not come by a list';

CREATE TABLE price_latest (
  supplier   entity_code NOT NULL,
  item       entity_code NOT NULL,
  size       numeric(12, 4) NOT NULL,
  valid_from date NOT NULL,
  amount     numeric(14, 4) NOT NULL,
  listed_per text COLLATE "C",
  PRIMARY KEY (supplier, item, size)
);
COMMENT ON TABLE price_latest IS 'of each pack and supplier the row of price with the last day; written by the triggers of price alone';

INSERT INTO price_latest (supplier, item, size, valid_from, amount, listed_per)
SELECT DISTINCT ON (supplier, item, size) supplier, item, size, valid_from, amount, listed_per
FROM price
ORDER BY supplier, item, size, valid_from DESC;

-- +goose StatementBegin
CREATE FUNCTION price_latest_follows() RETURNS trigger LANGUAGE plpgsql AS $$
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
$$;
-- +goose StatementEnd
COMMENT ON FUNCTION price_latest_follows() IS 'statement trigger of price: keeps price_latest';

CREATE TRIGGER price_latest_inserts   AFTER INSERT   ON price REFERENCING NEW TABLE AS after_change FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_latest_updates   AFTER UPDATE   ON price REFERENCING OLD TABLE AS before_change NEW TABLE AS after_change FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_latest_deletes   AFTER DELETE   ON price REFERENCING OLD TABLE AS before_change FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();
CREATE TRIGGER price_latest_truncates AFTER TRUNCATE ON price FOR EACH STATEMENT EXECUTE FUNCTION price_latest_follows();

-- ---------------------------------------------------------------------------------------------------------
-- Lists and what came of them
-- ---------------------------------------------------------------------------------------------------------

CREATE TABLE price_update (
  number          bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  id              text COLLATE "C" NOT NULL UNIQUE,
  supplier        entity_code NOT NULL REFERENCES supplier,
  list_date       date NOT NULL,
  effective_from  date NOT NULL,
  currency        text COLLATE "C" NOT NULL,
  content         bytea NOT NULL CONSTRAINT price_update_content_is_hash CHECK (length(content) = 32),
  idempotency_key text COLLATE "C",
  status          text COLLATE "C" NOT NULL CONSTRAINT price_update_status_is_known CHECK (status IN ('applied', 'unchanged', 'held', 'dismissed')),
  held_because    text[] NOT NULL,
  understood      jsonb NOT NULL,
  counts          jsonb NOT NULL,
  largest_moves   jsonb NOT NULL,
  basket          jsonb NOT NULL,
  revision        bigint NOT NULL,
  created_at      timestamptz NOT NULL,
  created_by      text NOT NULL,
  decided_at      timestamptz,
  decided_by      text
);
CREATE INDEX price_update_in_order ON price_update (supplier, effective_from, list_date, number);
CREATE INDEX price_update_by_list ON price_update (supplier, list_date, number);
CREATE UNIQUE INDEX price_update_by_key ON price_update (supplier, idempotency_key) WHERE idempotency_key IS NOT NULL;
COMMENT ON TABLE price_update IS 'every price list that was taken in; never changed but by a decision about what was held';
COMMENT ON COLUMN price_update.content IS 'SHA-256 over the rows, to know the same list again';
COMMENT ON COLUMN price_update.revision IS 'the catalogue''s revision once this was done';

CREATE TABLE price_update_row (
  update_number bigint NOT NULL REFERENCES price_update ON DELETE CASCADE,
  place         integer NOT NULL,
  line          integer NOT NULL,
  status        text COLLATE "C" NOT NULL CONSTRAINT price_update_row_status_is_known CHECK (status IN ('held', 'rejected', 'approved', 'dismissed')),
  list_column   text NOT NULL DEFAULT '',
  reason        text NOT NULL,
  found         text NOT NULL DEFAULT '',
  code          text COLLATE "C" NOT NULL DEFAULT '',
  item          text COLLATE "C",
  size          numeric(12, 4),
  amount        numeric(20, 4),
  before_amount numeric(14, 4),
  listed_per    text COLLATE "C",
  PRIMARY KEY (update_number, place)
);
CREATE INDEX price_update_row_by_status ON price_update_row (update_number, status, place);
COMMENT ON TABLE price_update_row IS 'rows that were held (all of them: they may be approved) or rejected (the first ten thousand), in the order of the list';
COMMENT ON COLUMN price_update_row.code IS 'why it was held: move, zero, negative, currency or unit';
COMMENT ON COLUMN price_update_row.found IS 'what stood in the list, its beginning';

CREATE TABLE price_update_staged (
  update_number bigint NOT NULL REFERENCES price_update ON DELETE CASCADE,
  line          integer NOT NULL,
  item          text COLLATE "C" NOT NULL,
  size          numeric(12, 4) NOT NULL,
  amount        numeric(20, 4) NOT NULL,
  listed_per    text COLLATE "C" NOT NULL,
  hold          text COLLATE "C"
);
CREATE INDEX price_update_staged_by_update ON price_update_staged (update_number);
COMMENT ON TABLE price_update_staged IS 'all good rows of lists that are held whole, until somebody decides about them';

CREATE TABLE price_update_absent (
  update_number bigint NOT NULL REFERENCES price_update ON DELETE CASCADE,
  item          entity_code NOT NULL,
  size          numeric(12, 4) NOT NULL,
  listed        boolean NOT NULL,
  PRIMARY KEY (update_number, item, size)
);
COMMENT ON TABLE price_update_absent IS 'packs of which a list that was applied says nothing, though the supplier had a price for them on its day: by this a list that comes late knows which later lists speak of a pack. Kept as long as a list may come late';
COMMENT ON COLUMN price_update_absent.listed IS 'the list had the pack, but the row was held or rejected';

CREATE TABLE price_decision (
  number        bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  update_number bigint NOT NULL REFERENCES price_update ON DELETE CASCADE,
  action        text COLLATE "C" NOT NULL CONSTRAINT price_decision_action_is_known CHECK (action IN ('approve', 'dismiss')),
  rows          integer NOT NULL,
  revision      bigint NOT NULL,
  decided_at    timestamptz NOT NULL,
  decided_by    text NOT NULL
);
CREATE INDEX price_decision_by_update ON price_decision (update_number, number);
COMMENT ON TABLE price_decision IS 'who approved or dismissed how many held rows of a list, and when';
