SELECT tries, wall, zone, boot_id, boot_ms FROM wrong_pin WHERE person = :person;
