UPDATE name SET name = :name, salt = :salt, search = :search WHERE person = :person AND number = :number;
