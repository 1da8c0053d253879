SELECT person FROM name WHERE number = :number;
