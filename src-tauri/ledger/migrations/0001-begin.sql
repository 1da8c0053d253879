-- Marks the file as a ledger of this program: DOOR in ASCII.
PRAGMA application_id = 0x444f4f52;

-- What this installation is: its stream, and the facility once there is one.
CREATE TABLE installation (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  stream TEXT NOT NULL,
  facility TEXT
) STRICT;

-- Sealed facts. `bytes` is the canonical JSON as it was signed; every other column is taken from it, to
-- find and order entries, and `ledger check` compares them.
CREATE TABLE entry (
  stream TEXT NOT NULL,
  seq INTEGER NOT NULL CHECK (seq >= 0),
  id TEXT NOT NULL UNIQUE,
  digest TEXT NOT NULL,
  hlc_ms INTEGER NOT NULL,
  hlc_n INTEGER NOT NULL,
  kind TEXT NOT NULL,
  person TEXT,
  known_on TEXT NOT NULL,
  bytes BLOB NOT NULL,
  PRIMARY KEY (stream, seq)
) STRICT;
CREATE INDEX entry_by_clock ON entry (hlc_ms, hlc_n);
CREATE INDEX entry_by_person ON entry (person);

-- Signatures over `entry.bytes`; they sit outside the digest, and there may be several.
CREATE TABLE signature (
  stream TEXT NOT NULL,
  seq INTEGER NOT NULL,
  signer TEXT NOT NULL CHECK (signer IN ('device', 'observer', 'authority')),
  key TEXT NOT NULL,
  bytes BLOB NOT NULL,
  PRIMARY KEY (stream, seq, signer, key),
  FOREIGN KEY (stream, seq) REFERENCES entry (stream, seq)
) STRICT;

-- Names lie beside the entries, so that they can be erased when retention ends and the chain stays whole.
CREATE TABLE name (
  person TEXT PRIMARY KEY,
  name TEXT,
  number TEXT UNIQUE,
  salt TEXT,
  search TEXT
) STRICT;

-- Demonstrations begun. `boot_ms` counts from the start of the device that `boot_id` names.
CREATE TABLE demonstration (
  id TEXT PRIMARY KEY,
  person TEXT NOT NULL,
  observer TEXT NOT NULL,
  assistant TEXT,
  procedure TEXT NOT NULL,
  version TEXT NOT NULL,
  procedure_hash TEXT NOT NULL,
  purpose TEXT NOT NULL,
  mode TEXT NOT NULL,
  conditions TEXT NOT NULL,
  first_attempt TEXT,
  begun TEXT NOT NULL,
  zone TEXT NOT NULL,
  boot_id TEXT NOT NULL,
  boot_ms INTEGER NOT NULL
) STRICT;

-- What was tapped, line by line.
CREATE TABLE line (
  demonstration TEXT NOT NULL REFERENCES demonstration (id),
  n INTEGER NOT NULL CHECK (n >= 0),
  tap TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  event TEXT NOT NULL,
  wall TEXT NOT NULL,
  boot_id TEXT NOT NULL,
  boot_ms INTEGER NOT NULL,
  PRIMARY KEY (demonstration, n),
  UNIQUE (demonstration, tap)
) STRICT, WITHOUT ROWID;

-- Filed records. A demonstration is sealed when it has one.
CREATE TABLE record (
  demonstration TEXT PRIMARY KEY REFERENCES demonstration (id),
  entry TEXT NOT NULL UNIQUE REFERENCES entry (id),
  file TEXT NOT NULL UNIQUE,
  pdf TEXT NOT NULL,
  json BLOB NOT NULL
) STRICT;

-- Sealed blobs that belong to this data folder, by name; what is in them is none of the ledger's business.
CREATE TABLE key (
  name TEXT PRIMARY KEY,
  blob BLOB NOT NULL
) STRICT;

CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry never changes'); END;
CREATE TRIGGER entry_never_goes BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END;
CREATE TRIGGER signature_never_changes BEFORE UPDATE ON signature
BEGIN SELECT RAISE(ABORT, 'a signature never changes'); END;
CREATE TRIGGER signature_never_goes BEFORE DELETE ON signature
BEGIN SELECT RAISE(ABORT, 'a signature is never deleted'); END;
CREATE TRIGGER demonstration_never_changes BEFORE UPDATE ON demonstration
BEGIN SELECT RAISE(ABORT, 'a demonstration never changes'); END;
CREATE TRIGGER demonstration_never_goes BEFORE DELETE ON demonstration
BEGIN SELECT RAISE(ABORT, 'a demonstration is never deleted'); END;
CREATE TRIGGER line_never_changes BEFORE UPDATE ON line
BEGIN SELECT RAISE(ABORT, 'a line never changes'); END;
CREATE TRIGGER line_never_goes BEFORE DELETE ON line
BEGIN SELECT RAISE(ABORT, 'a line is never deleted'); END;
CREATE TRIGGER line_after_the_seal BEFORE INSERT ON line
WHEN EXISTS (SELECT 1 FROM record WHERE record.demonstration = NEW.demonstration)
BEGIN SELECT RAISE(ABORT, 'a sealed demonstration takes no more lines'); END;
CREATE TRIGGER record_never_changes BEFORE UPDATE ON record
BEGIN SELECT RAISE(ABORT, 'a record never changes'); END;
CREATE TRIGGER record_never_goes BEFORE DELETE ON record
BEGIN SELECT RAISE(ABORT, 'a record is never deleted'); END;
