SELECT name FROM sqlite_schema LIMIT 1;
