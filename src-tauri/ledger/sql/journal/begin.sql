INSERT INTO demonstration (
  id, person, observer, assistant, procedure, version, procedure_hash, purpose, mode, conditions,
  first_attempt, paper_form, second_of, begun, zone, boot_id, boot_ms
) VALUES (
  :id, :person, :observer, :assistant, :procedure, :version, :procedure_hash, :purpose, :mode, :conditions,
  :first_attempt, :paper_form, :second_of, :begun, :zone, :boot_id, :boot_ms
);
