DELETE FROM wrong_pin WHERE person = :person;
