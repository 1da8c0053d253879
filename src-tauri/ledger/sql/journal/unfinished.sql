SELECT demonstration.*, 0 AS sealed
FROM demonstration
WHERE NOT EXISTS (SELECT 1 FROM record WHERE record.demonstration = demonstration.id)
ORDER BY rowid DESC;
