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
        file!("airborne-contact-donning"),
        file!("covid-era-removal"),
        file!("droplet-contact-donning"),
        file!("eye-protection-reprocessing"),
        file!("hand-rub"),
        file!("hand-wash"),
        file!("high-consequence-n95-doffing"),
        file!("high-consequence-n95-donning"),
        file!("high-consequence-papr-doffing"),
        file!("high-consequence-papr-donning"),
        file!("n95-redonning-limited-reuse"),
        file!("standard-donning"),
        file!("standard-removal-example-1"),
        file!("standard-removal-example-2"),
        file!("who-filovirus-coverall-doffing"),
    ]
}

/// The JSON Schema of a procedure file, for editors; generated from the types of this module.
pub fn schema() -> &'static str {
    include_str!("../../../../procedures/procedure.schema.json")
}
