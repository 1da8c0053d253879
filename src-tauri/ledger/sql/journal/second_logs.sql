SELECT demonstration.*, 0 AS sealed
FROM demonstration
WHERE second_of = :of
ORDER BY rowid;
