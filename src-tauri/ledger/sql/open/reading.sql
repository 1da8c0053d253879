PRAGMA query_only = ON;
PRAGMA trusted_schema = OFF;
PRAGMA busy_timeout = 5000;
