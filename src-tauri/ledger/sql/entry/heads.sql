-- The bare columns come from the row that holds the maximum, as SQLite guarantees.
SELECT stream, max(seq) AS seq, digest FROM entry GROUP BY stream;
