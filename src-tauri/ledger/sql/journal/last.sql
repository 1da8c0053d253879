SELECT n, at_ms FROM line WHERE demonstration = :demonstration ORDER BY n DESC LIMIT 1;
