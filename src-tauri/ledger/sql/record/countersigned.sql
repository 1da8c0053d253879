SELECT demonstration, entry, file, pdf FROM countersigned ORDER BY rowid;
