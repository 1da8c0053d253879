INSERT INTO signature (stream, seq, signer, key, bytes) VALUES (:stream, :seq, :signer, :key, :bytes);
