SELECT person, name, number, salt FROM name
WHERE search IS NOT NULL AND instr(search, :search) > 0
ORDER BY person;
