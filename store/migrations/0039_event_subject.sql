-- What happened to one thing is found at once.

-- +goose NO TRANSACTION

-- +goose Up

DROP INDEX IF EXISTS event_of_subject;
CREATE INDEX CONCURRENTLY event_of_subject ON event (subject, number);
