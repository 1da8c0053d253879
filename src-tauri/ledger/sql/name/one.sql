SELECT person, name, number, salt FROM name WHERE person = :person;
