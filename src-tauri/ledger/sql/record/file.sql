INSERT INTO record (demonstration, entry, file, pdf, json) VALUES (:demonstration, :entry, :file, :pdf, :json);
