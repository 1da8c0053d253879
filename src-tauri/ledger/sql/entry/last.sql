-- Entries are never deleted, so the number only grows; a look at it costs the same however many there are.
SELECT coalesce(max(rowid), 0) AS last FROM entry;
