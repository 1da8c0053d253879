//! Writes the JSON Schema of a procedure file to standard output:
//! `cargo run -p competency --features schema --example schema > procedures/procedure.schema.json`.

#[expect(clippy::print_stdout, reason = "printing the schema is all this tool does")]
fn main() -> Result<(), serde_json::Error> {
    print!("{}", competency::procedure::generated_schema()?);
    Ok(())
}
