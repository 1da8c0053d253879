INSERT INTO installation (one, stream, facility) VALUES (1, :stream, NULL);
