use serde::{Deserialize, Serialize};

/// Lists people whose name or number contains the text, in any case.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ListPeople {
    /// What to look for; everyone where it is empty.
    pub search: String,
    /// Only those who left.
    pub left: bool,
    /// How many to pass over.
    pub first: u32,
    /// At most this many.
    pub most: u32,
}

/// People found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct People {
    /// Those found, by name.
    pub found: Vec<Person>,
    /// How many there are in all.
    pub of: u32,
}

/// A person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person {
    /// Names them in requests.
    pub id: String,
    /// Their name.
    pub name: String,
    /// Their staff number.
    pub number: String,
    /// Id of their unit.
    pub unit: String,
    /// Name of their unit.
    pub unit_name: String,
    /// Their role.
    pub role: String,
    /// Whether they hold a signing certificate and may observe.
    pub observes: bool,
}

/// Adds a person.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct AddPerson {
    /// Their name.
    pub name: String,
    /// Their staff number; unique in the facility.
    pub number: String,
    /// Name of their unit; made where there is none of that name.
    pub unit: String,
    /// Their role.
    pub role: String,
}

/// Appoints a person as an observer on outside evidence and enrols their key.
#[derive(Clone, Serialize, Deserialize)]
pub struct AppointObserver {
    /// The person's id.
    pub person: String,
    /// The outside evidence.
    pub evidence: String,
    /// The passphrase that opens the authority's key.
    pub passphrase: String,
    /// The PIN that will open the observer's key: six digits or more.
    pub pin: String,
}

impl std::fmt::Debug for AppointObserver {
    /// Never shows the secrets.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("AppointObserver").field("person", &self.person).finish_non_exhaustive()
    }
}

/// Saves the certificate of the facility's authority, by which PDF readers trust records.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveAuthority {}

/// Where the certificate is, and what to compare it by.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SavedAuthority {
    /// Where the file is.
    pub path: String,
    /// SHA-256 of the certificate, hexadecimal.
    pub fingerprint: String,
}
