SELECT bytes FROM entry WHERE person = :person OR person IS NULL ORDER BY stream, seq;
