SELECT demonstration, entry, file, pdf, json FROM record WHERE demonstration = :demonstration;
