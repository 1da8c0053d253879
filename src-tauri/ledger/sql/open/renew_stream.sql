UPDATE installation SET stream = :stream WHERE one = 1;
