-- Lists of offers go by the time they were made, so that a range of days is a range of the index that sorts them.

-- +goose Up

CREATE INDEX quote_newest ON quote (created_at DESC, number DESC);
DROP INDEX quote_by_time;

CREATE INDEX quote_open_newest_moved ON quote (created_at DESC, number DESC) WHERE status IN ('draft', 'sent') AND moved IS NOT NULL;
DROP INDEX quote_open_moved;

CREATE INDEX quote_newest_of_status ON quote (status, created_at DESC, number DESC);
DROP INDEX quote_by_status;

CREATE INDEX quote_newest_of_customer ON quote (customer_reference, created_at DESC, number DESC) WHERE customer_reference <> '';
DROP INDEX quote_by_customer;

CREATE INDEX quote_newest_of_name ON quote (lower(customer_name), created_at DESC, number DESC) WHERE customer_name <> '';
DROP INDEX quote_by_customer_name;
