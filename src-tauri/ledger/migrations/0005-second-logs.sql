-- The demonstration of which this is another observer's own log, made afterwards from a replay; NULL for a
-- demonstration of its own.
ALTER TABLE demonstration ADD COLUMN second_of TEXT REFERENCES demonstration (id);
