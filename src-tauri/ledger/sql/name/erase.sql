UPDATE name SET name = NULL, number = NULL, salt = NULL, search = NULL WHERE person = :person;
