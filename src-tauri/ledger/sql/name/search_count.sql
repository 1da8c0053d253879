SELECT count(*) AS found FROM name WHERE search IS NOT NULL AND instr(search, :search) > 0;
