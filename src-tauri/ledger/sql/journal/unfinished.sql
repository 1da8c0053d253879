SELECT demonstration.*, 0 AS sealed
FROM demonstration
WHERE NOT EXISTS (SELECT 1 FROM record WHERE record.demonstration = demonstration.id)
  -- A second log is never sealed; it is finished once it has ended.
  AND NOT (
    second_of IS NOT NULL
    AND EXISTS (
      SELECT 1 FROM line
      WHERE line.demonstration = demonstration.id AND json_extract(line.event, '$.is') = 'end'
    )
  )
ORDER BY rowid DESC;
