PRAGMA integrity_check(20);
