SELECT count(*) AS entries FROM entry;
