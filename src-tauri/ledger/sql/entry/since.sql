SELECT bytes FROM entry WHERE rowid > :after AND rowid <= :last ORDER BY stream, seq;
