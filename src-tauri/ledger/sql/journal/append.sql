INSERT INTO line (demonstration, n, tap, at_ms, event, wall, boot_id, boot_ms)
VALUES (:demonstration, :n, :tap, :at_ms, :event, :wall, :boot_id, :boot_ms);
