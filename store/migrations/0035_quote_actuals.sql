-- What finished jobs took, beside what was estimated of them.

-- +goose Up

CREATE TABLE quote_actual (
  quote       text COLLATE "C" PRIMARY KEY, -- there, as its revision is; one table's lock is waited for, not two
  revision    integer NOT NULL,
  finished    date NOT NULL,
  note        text NOT NULL CONSTRAINT quote_actual_note_is_short CHECK (length(note) <= 4000),
  steps       jsonb NOT NULL CONSTRAINT quote_actual_steps_are_a_list CHECK (jsonb_typeof(steps) = 'array'),
  materials   jsonb NOT NULL CONSTRAINT quote_actual_materials_are_a_list CHECK (jsonb_typeof(materials) = 'array'),
  defects     text[] NOT NULL,
  reported_at timestamptz NOT NULL,
  reported_by text NOT NULL CONSTRAINT quote_actual_author_is_short CHECK (reported_by <> '' AND length(reported_by) <= 200),
  FOREIGN KEY (quote, revision) REFERENCES quote_revision (quote, number)
);
COMMENT ON TABLE quote_actual IS 'what a finished job took: one report an offer, the last one counts';
COMMENT ON COLUMN quote_actual.steps IS 'code, estimated minutes with their deviation, minutes taken';
CREATE INDEX quote_actual_by_day ON quote_actual (finished);

CREATE TABLE quote_learning_dismissal (
  code         text COLLATE "C" PRIMARY KEY CONSTRAINT quote_learning_dismissal_code_is_short CHECK (length(code) BETWEEN 1 AND 64),
  jobs         integer NOT NULL,
  dismissed_at timestamptz NOT NULL,
  dismissed_by text NOT NULL
);
COMMENT ON TABLE quote_learning_dismissal IS 'proposals for labour standards that the shop does not want, with how many jobs told of them then';
