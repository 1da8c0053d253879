SELECT hlc_ms, hlc_n FROM entry ORDER BY hlc_ms DESC, hlc_n DESC LIMIT 1;
