-- What a wood's dust does, and what the law says of the trade in it.

-- +goose Up

ALTER TABLE species
  ADD COLUMN dust text NOT NULL DEFAULT '' CONSTRAINT species_dust_is_short CHECK (length(dust) <= 500),
  ADD COLUMN dust_source source_id NOT NULL DEFAULT '',
  ADD COLUMN law text NOT NULL DEFAULT '' CONSTRAINT species_law_is_short CHECK (length(law) <= 500),
  ADD COLUMN law_source source_id NOT NULL DEFAULT '',
  ADD CONSTRAINT species_notes_name_their_source CHECK ((dust = '') = (dust_source = '') AND (law = '') = (law_source = ''));
COMMENT ON COLUMN species.dust IS 'a sentence for those who work the wood; empty: nothing is known beyond what holds for all dust';
COMMENT ON COLUMN species.law IS 'a sentence for those who buy and sell the wood; empty: nothing is known';
