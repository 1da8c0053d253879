//! The procedures that come with the program, in our own words from published guidance.

/// Name and text of one file of the top folder `procedures`.
macro_rules! file {
    ($name:literal) => {
        (concat!($name, ".json"), include_str!(concat!("../../../../procedures/", $name, ".json")))
    };
}

/// Every procedure of the library: file name and text, sorted by name. A test reads each of them, so
/// that none can have a flaw.
pub fn library() -> &'static [(&'static str, &'static str)] {
    &[
        file!("high-consequence-n95-doffing"),
        file!("standard-donning"),
        file!("standard-removal-example-1"),
        file!("standard-removal-example-2"),
    ]
}

/// The JSON Schema of a procedure file, for editors; generated from the types of this module.
pub fn schema() -> &'static str {
    include_str!("../../../../procedures/procedure.schema.json")
}
