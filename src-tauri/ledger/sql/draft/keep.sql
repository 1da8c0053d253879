INSERT INTO draft (id, procedure, kept) VALUES (:id, :procedure, :kept)
ON CONFLICT (id) DO UPDATE SET procedure = excluded.procedure, kept = excluded.kept;
