DELETE FROM draft WHERE id = :id;
