INSERT INTO wrong_pin (person, tries, wall, zone, boot_id, boot_ms)
VALUES (:person, 1, :wall, :zone, :boot_id, :boot_ms)
ON CONFLICT (person) DO UPDATE SET
  tries = min(wrong_pin.tries + 1, 4294967295), wall = excluded.wall, zone = excluded.zone,
  boot_id = excluded.boot_id, boot_ms = excluded.boot_ms;
