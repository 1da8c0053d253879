-- Wrong PINs in a row, by person, and when the last one was entered; no row where the PIN opened since.
CREATE TABLE wrong_pin (
  person TEXT PRIMARY KEY,
  tries INTEGER NOT NULL CHECK (tries > 0),
  wall TEXT NOT NULL,
  zone TEXT NOT NULL,
  boot_id TEXT NOT NULL,
  boot_ms INTEGER NOT NULL
) STRICT;
