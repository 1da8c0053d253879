SELECT bytes FROM entry ORDER BY stream, seq;
