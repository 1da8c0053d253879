SELECT signer, key, bytes FROM signature WHERE stream = :stream AND seq = :seq ORDER BY signer, key;
