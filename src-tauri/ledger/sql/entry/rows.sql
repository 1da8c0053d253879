SELECT stream, seq, id, digest, hlc_ms, hlc_n, kind, person, known_on, bytes FROM entry ORDER BY stream, seq;
