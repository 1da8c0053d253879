INSERT INTO key (name, blob) VALUES (:name, :blob) ON CONFLICT (name) DO UPDATE SET blob = excluded.blob;
