-- Without what SQLite makes by itself, such as the indexes of its keys.
SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite%'
