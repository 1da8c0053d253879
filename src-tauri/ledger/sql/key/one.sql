SELECT blob FROM key WHERE name = :name;
