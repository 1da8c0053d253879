SELECT demonstration.*, 0 AS sealed
FROM demonstration
WHERE NOT EXISTS (SELECT 1 FROM record WHERE record.demonstration = demonstration.id)
  -- A second log is never sealed; it is finished once it has ended. Where something was taken back, whether it
  -- has is told by the fold of its lines, which whoever reads this asks.
  AND NOT (
    second_of IS NOT NULL
    AND EXISTS (
      SELECT 1 FROM line
      WHERE line.demonstration = demonstration.id AND json_extract(line.event, '$.is') = 'end'
    )
    AND NOT EXISTS (
      SELECT 1 FROM line
      WHERE line.demonstration = demonstration.id AND json_extract(line.event, '$.is') = 'undo'
    )
  )
ORDER BY rowid DESC;
