SELECT demonstration.*,
  EXISTS (SELECT 1 FROM record WHERE record.demonstration = demonstration.id) AS sealed
FROM demonstration
WHERE EXISTS (
    SELECT 1 FROM line
    WHERE line.demonstration = demonstration.id AND json_extract(line.event, '$.is') = 'coaching'
  )
  AND NOT EXISTS (
    SELECT 1 FROM demonstration AS later
    WHERE later.person = demonstration.person
      AND later.procedure = demonstration.procedure
      AND later.second_of IS NULL
      AND later.rowid > demonstration.rowid
  )
ORDER BY demonstration.rowid;
