SELECT tap, at_ms, event FROM line WHERE demonstration = :demonstration AND tap = :tap;
