SELECT at_ms, boot_ms FROM line
WHERE demonstration = :demonstration AND boot_id = :boot_id
ORDER BY n LIMIT 1;
