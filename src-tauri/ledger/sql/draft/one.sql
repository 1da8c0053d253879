SELECT id, procedure, kept FROM draft WHERE id = :id;
