SELECT stream, facility FROM installation WHERE one = 1;
