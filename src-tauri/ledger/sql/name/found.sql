SELECT 1 FROM name WHERE person = :person AND search = :search
