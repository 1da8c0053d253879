-- Records with their second signature: another file beside the first, which stays as it is.
CREATE TABLE countersigned (
  demonstration TEXT PRIMARY KEY REFERENCES record (demonstration),
  entry TEXT NOT NULL UNIQUE REFERENCES entry (id),
  file TEXT NOT NULL UNIQUE,
  pdf TEXT NOT NULL
) STRICT;
CREATE TRIGGER countersigned_never_changes BEFORE UPDATE ON countersigned
BEGIN SELECT RAISE(ABORT, 'a second signature never changes'); END;
CREATE TRIGGER countersigned_never_goes BEFORE DELETE ON countersigned
BEGIN SELECT RAISE(ABORT, 'a second signature is never deleted'); END;
