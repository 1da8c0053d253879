SELECT demonstration.*,
  EXISTS (SELECT 1 FROM record WHERE record.demonstration = demonstration.id) AS sealed
FROM demonstration WHERE id = :id;
