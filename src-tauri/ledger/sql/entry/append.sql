INSERT INTO entry (stream, seq, id, digest, hlc_ms, hlc_n, kind, person, known_on, bytes)
VALUES (:stream, :seq, :id, :digest, :hlc_ms, :hlc_n, :kind, :person, :known_on, :bytes);
