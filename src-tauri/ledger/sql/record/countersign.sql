INSERT INTO countersigned (demonstration, entry, file, pdf) VALUES (:demonstration, :entry, :file, :pdf);
