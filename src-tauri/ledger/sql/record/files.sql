SELECT file, pdf FROM record UNION ALL SELECT file, pdf FROM countersigned;
