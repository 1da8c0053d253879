//! The JSON Schema, made from the types.

use super::Procedure;

/// The schema as it is to stand in `procedures/procedure.schema.json`.
pub fn generated_schema() -> Result<String, serde_json::Error> {
    let schema = schemars::schema_for!(Procedure);
    serde_json::to_string_pretty(&schema).map(|text| text + "\n")
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_schema_file_is_current() {
        let generated = super::generated_schema().expect("the schema can be written");
        assert_eq!(
            crate::procedure::schema(),
            generated,
            "run: cargo run -p competency --features schema --example schema > procedures/procedure.schema.json"
        );
    }
}
