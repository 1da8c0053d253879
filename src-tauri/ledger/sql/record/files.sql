SELECT file, pdf FROM record ORDER BY rowid;
