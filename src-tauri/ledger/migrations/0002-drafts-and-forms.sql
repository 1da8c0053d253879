-- Procedures that an educator is working on, as JSON text; nothing of them is sealed or in force.
CREATE TABLE draft (
  id TEXT PRIMARY KEY,
  procedure TEXT NOT NULL,
  kept TEXT NOT NULL
) STRICT;

-- The civil date of the paper form that a demonstration is entered from; NULL where it was logged live.
ALTER TABLE demonstration ADD COLUMN paper_form TEXT;
