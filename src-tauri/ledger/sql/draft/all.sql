SELECT id, procedure, kept FROM draft ORDER BY kept DESC, id;
