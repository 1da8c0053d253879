SELECT bytes FROM entry WHERE stream = :stream ORDER BY seq DESC LIMIT 1;
