-- WAL with a full sync at each commit: what was acknowledged survives a power cut.
-- The WAL is copied back only when it holds more than 4096 pages (16 MiB), so never in the middle of an
-- ordinary demonstration; `Ledger::rest` copies it back between demonstrations.
PRAGMA journal_mode = WAL;
PRAGMA synchronous = FULL;
PRAGMA fullfsync = ON;
PRAGMA checkpoint_fullfsync = ON;
PRAGMA wal_autocheckpoint = 4096;
PRAGMA foreign_keys = ON;
PRAGMA trusted_schema = OFF;
PRAGMA busy_timeout = 5000;
