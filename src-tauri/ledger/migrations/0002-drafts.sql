-- Procedures that an educator is working on, as JSON text; nothing of them is sealed or in force.
CREATE TABLE draft (
  id TEXT PRIMARY KEY,
  procedure TEXT NOT NULL,
  kept TEXT NOT NULL
) STRICT;
