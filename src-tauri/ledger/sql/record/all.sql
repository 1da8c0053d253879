SELECT demonstration, entry, file, pdf, json FROM record ORDER BY rowid;
