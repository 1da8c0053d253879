UPDATE installation SET facility = :facility WHERE one = 1;
