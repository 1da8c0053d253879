INSERT INTO name (person, name, number, salt, search) VALUES (:person, :name, :number, :salt, :search);
