-- Proposals are made for settings and prices too, whose codes say more than those of standards.

-- +goose Up

ALTER TABLE quote_learning_dismissal DROP CONSTRAINT quote_learning_dismissal_code_is_short;
ALTER TABLE quote_learning_dismissal ADD CONSTRAINT quote_learning_dismissal_code_is_short CHECK (length(code) BETWEEN 1 AND 96);
COMMENT ON TABLE quote_learning_dismissal IS 'proposals that the shop does not want, with how many jobs told of them then';
