SELECT person, name, number, salt FROM name ORDER BY search, person;
