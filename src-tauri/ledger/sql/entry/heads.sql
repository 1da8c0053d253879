-- Steps from stream to stream along the primary key rather than over every entry.
WITH RECURSIVE streams(stream) AS (
  SELECT min(stream) FROM entry
  UNION ALL
  SELECT (SELECT min(entry.stream) FROM entry WHERE entry.stream > streams.stream) FROM streams
  WHERE streams.stream IS NOT NULL
)
SELECT entry.stream, entry.seq, entry.digest FROM streams
JOIN entry ON entry.stream = streams.stream
  AND entry.seq = (SELECT max(last.seq) FROM entry AS last WHERE last.stream = streams.stream);
