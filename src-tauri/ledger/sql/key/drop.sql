DELETE FROM key
WHERE (name = :under OR substr(name, 1, length(:under) + 1) = :under || '/') AND name <> :kept;
